//! Worked examples and properties of whole purchases.
#![allow(clippy::unwrap_used)]

mod bench;
mod lengths;
mod money;
mod properties;
mod supply;
mod tools;
