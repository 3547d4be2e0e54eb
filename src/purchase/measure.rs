//! Lengths as whole micrometres, so that cuts add up exactly, and amounts in words.

use crate::quantity::Length;

/// Whole micrometres; every inch fraction that a tape shows is one to within half of one.
pub(super) fn micrometres(length: Length) -> u64 {
    (length.mm() * 1000.0).round().max(0.0) as u64
}

/// The length of a number of micrometres.
pub(super) fn length(micrometres: u64) -> Length {
    Length::from_m(micrometres as f64 / 1e6)
}

/// Metres to the millimetre, without trailing zeros.
pub(super) fn metres(micrometres: u64) -> String {
    let text = format!("{:.3}", length(micrometres).m());
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `1 piece`, `2 pieces`.
pub(super) fn pieces(count: u32) -> String {
    let noun = if count == 1 { "piece" } else { "pieces" };
    format!("{count} {noun}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_are_whole_micrometres_and_metres_are_short() {
        assert_eq!(micrometres(Length::from_mm(25.4)), 25_400);
        assert_eq!(micrometres(Length::from_m(0.1 + 0.2)), 300_000);
        assert_eq!(metres(9_144_000), "9.144");
        assert_eq!(metres(25_000_000), "25");
        assert_eq!(metres(100_000), "0.1");
        assert_eq!(metres(0), "0");
    }

    #[test]
    fn one_piece_is_not_one_pieces() {
        assert_eq!(pieces(1), "1 piece");
        assert_eq!(pieces(0), "0 pieces");
    }
}
