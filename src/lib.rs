//! Longlead plans the heavy low-voltage cabling of a vehicle, van or boat.
//!
//! A straight line of pure stages, each in a folder of its own, takes a job from tape measure to
//! shopping list:
//!
//! ```text
//! job + shop + catalog -> route -> heat -> circuit -> sizing -> protection
//!                      -> fittings -> method -> purchase -> shopping, spares, readings -> compare, quote -> documents
//! ```
//!
//! [`plan::make`] is that line in one function. Files are read and written only by the command line
//! in [`cli`]; a stage neither prints nor looks at the clock. What can be wrong with a file becomes a
//! [`diagnostic::Diagnostic`]; what can be wrong with a plan becomes a [`check::Check`].

pub mod cable_check;
pub mod catalog;
pub mod check;
pub mod circuit;
pub mod cli;
pub mod compare;
pub mod diagnostic;
pub mod documents;
pub mod drawings;
pub mod file;
pub mod fittings;
pub mod heat;
pub mod job;
pub mod method;
pub mod plan;
pub mod protection;
pub mod purchase;
pub mod quantity;
pub mod quote;
pub mod readings;
pub mod record;
pub mod route;
pub mod shop;
pub mod shopping;
pub mod sizing;
pub mod spares;

pub use cli::run;
