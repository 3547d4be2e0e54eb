//! Reading TOML files into typed tables, with every mistake reported at once.
//!
//! [`table!`](table) declares a table once: its keys, their types, defaults and meaning. The reader,
//! the check for unknown keys and the printed reference all come from that one declaration.
//! [`words!`](words) does the same for a closed set of words.

mod choice;
mod entry;
mod overlay;
mod reader;
mod reference;
mod table;
mod value;
mod words;

pub use choice::Choice;
pub use overlay::Overlay;
pub use reader::{Document, Reader, Reading};
pub use reference::reference;
pub use table::{Field, OpenTable, Table};
pub use value::{Shape, Value, wrong_type};

pub(crate) use table::table;
pub(crate) use words::words;
