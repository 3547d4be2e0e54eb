//! Boxes to tick, and the name by which a browser remembers each.
//!
//! A name is made of what the box stands for, not of where it stands: when a plan is made anew,
//! what stayed as it was keeps its tick, and what changed loses it.

use std::collections::BTreeMap;

/// Gives each box of a document its name.
pub(super) struct Names {
    document: String,
    seen: BTreeMap<String, usize>,
}

impl Names {
    /// For a document of a job.
    pub(super) fn of(job: &str, document: &str) -> Self {
        Self {
            document: format!("{job}\n{document}"),
            seen: BTreeMap::new(),
        }
    }

    /// The name of the next box; boxes of the same words under the same heading are counted.
    pub(super) fn next(&mut self, heading: &str, words: &str) -> String {
        let item = format!("{}\n{}", unnumbered(heading), unnumbered(words));
        let count = self.seen.entry(item.clone()).or_default();
        *count += 1;
        let whole = format!("{}\n{item}\n{count}", self.document);
        format!("tick-{:016x}", fnv_1a(whole.as_bytes()))
    }
}

/// Words without the numbers of steps, which move when a step is added before them.
fn unnumbered(words: &str) -> String {
    let digits = |text: &str| {
        text.trim_start_matches(|letter: char| letter.is_ascii_digit())
            .to_owned()
    };
    let first = digits(words);
    let mut kept = match first.strip_prefix('.') {
        Some(rest) if first.len() < words.len() => rest.trim_start().to_owned(),
        _ => words.to_owned(),
    };
    if let Some((before, after)) = kept.split_once("as step ") {
        kept = format!("{before}{}", digits(after));
    }
    kept
}

/// The hash of Fowler, Noll and Vo, 1a, 64 bits: short, and the same for ever.
fn fnv_1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_the_published_one() {
        // Test vectors of the authors.
        assert_eq!(fnv_1a(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(fnv_1a(b"foobar"), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn the_number_of_a_step_is_no_part_of_a_name() {
        let name = |heading: &str, words: &str| Names::of("Van", "Install").next(heading, words);
        assert_eq!(
            name("3. Cut", "12. A; 2 min, as step 4"),
            name("5. Cut", "14. A; 2 min, as step 6")
        );
        assert_ne!(name("Cut", "1.35 m of red"), name("Cut", "1.45 m of red"));
        assert_ne!(name("Cut", "a"), name("Crimp", "a"));
    }

    #[test]
    fn the_same_words_twice_are_two_boxes() {
        let mut names = Names::of("Van", "Install");
        assert_ne!(names.next("h", "a"), names.next("h", "a"));
    }
}
