//! What a page may do: show itself, and run its own script.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

/// The policy (W3C Content Security Policy Level 3) of a page with one style sheet and at most one
/// script, each named by the hash of its text.
pub(super) fn of(style: &str, script: Option<&str>) -> String {
    let script = script.map_or(String::new(), |text| format!("; script-src {}", hash(text)));
    format!(
        "default-src 'none'; style-src {}{script}; base-uri 'none'; form-action 'none'",
        hash(style)
    )
}

fn hash(text: &str) -> String {
    format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)))
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_hash_is_that_of_the_standard() {
        // The example in section 8.4 of the policy's Level 2.
        let hash = super::hash("alert('Hello, world.');");
        assert_eq!(
            hash,
            "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"
        );
    }
}
