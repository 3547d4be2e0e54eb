//! The stage on a small pickup, trap by trap.

mod boxes;
mod devices;
mod ends;
mod passages;
mod studs;
mod supplies;
mod supports;
mod whole;
