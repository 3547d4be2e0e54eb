//! Names and figures as a mechanic reads them.

use crate::quantity::{Resistance, figure};

/// A name of the job, set off from the words around it.
pub fn named(name: &str) -> String {
    format!("`{name}`")
}

/// Names with commas and a closing `and`.
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}

/// A resistance.
pub fn milliohms(resistance: Resistance, digits: usize) -> String {
    format!("{} mΩ", figure(resistance.milliohm(), digits))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_listed_as_in_speech() {
        let names: Vec<String> = ["a", "b", "c"].map(named).to_vec();
        assert_eq!(listed(&names), "`a`, `b` and `c`");
        assert_eq!(listed(&names[..1]), "`a`");
        assert_eq!(listed(&[]), "");
    }
}
