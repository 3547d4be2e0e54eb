//! How well hands and tools reach something.

use crate::file::words;

words! {
    /// How well hands and tools reach a leg.
    pub enum Access as "a word for access" {
        /// On the bench or wide open.
        Open = "open",
        /// Reached with usual tools.
        Easy = "easy",
        /// Reached lying down or past other parts.
        Awkward = "awkward",
        /// Reached only after taking something off.
        Hard = "hard",
    }
}
