//! The program held against published tables and worked examples. Each figure stands here as a
//! literal with its source, apart from the catalog. "read", "cross-checked" and "memory" say how
//! sure the figure is: read in the source or a reprint of it, found alike in several places, or
//! written down from memory.

#![allow(clippy::unwrap_used, clippy::panic, missing_docs)]

mod ampacity;
mod cable_check;
mod conductors;
mod curves;
mod distances;
mod drops;
mod heat;
mod studs;
mod support;
