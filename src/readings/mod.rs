//! Readings: what a meter should show at every test point in every state, and what it says when it
//! shows something else.
//!
//! [`sheet`] lists the test points in the order in which one walks. [`verify`] takes what was
//! measured: each reading is held against its band, and all of a day together against the network,
//! whose resistances, sources and loads are fitted by least squares. What has to be far off to
//! explain the readings is the suspect; several days show what is ageing.

mod ageing;
mod as_cut;
mod day;
mod expected;
mod explain;
mod fit;
mod meter;
mod model;
mod points;
mod round;
mod sheet;
mod suspects;
mod unknowns;
mod verify;

pub use ageing::{Ageing, AgeingDay};
pub use as_cut::as_cut;
pub use day::on_the_day;
pub use explain::{Explained, Wrong};
pub use meter::Meter;
pub use points::{Measured, Point, PointKind, points};
pub use sheet::{LeftOut, Row, Sheet, SheetState, WORKSHOP_AIR, sheet};
pub use verify::{Agreement, DayVerdict, ReadingVerdict, Verdict, verify};
