//! Names and figures as a mechanic reads them.

use crate::job::Units;
use crate::quantity::{Length, Mass, Torque};

/// Newton metres in one pound-force inch: international pound, inch and standard gravity.
const NM_PER_LBF_IN: f64 = 0.112_984_829;

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

/// A figure without needless zeros.
pub fn figure(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    // A small negative rounds to a zero with a sign, and so does the sum of nothing.
    if text.trim_matches(['-', '0', '.']).is_empty() {
        return "0".to_owned();
    }
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A length to be measured or marked: millimetres, after sixteenths of an inch where wanted.
pub fn length(units: Units, length: Length) -> String {
    let metric = format!("{} mm", figure(length.mm(), 1));
    match units {
        Units::Metric => metric,
        Units::Imperial => format!("{} ({metric})", length.imperial_inches()),
    }
}

/// A length to be cut or kept: what is shown is never less.
pub fn at_least(units: Units, length: Length) -> String {
    let metric = format!(
        "{} mm",
        figure(length.rounded_up_to(Length::from_mm(1.0)).mm(), 0)
    );
    match units {
        Units::Metric => metric,
        Units::Imperial => {
            let inches = length.rounded_up_to(Length::SIXTEENTH).imperial_inches();
            format!("{inches} ({metric})")
        }
    }
}

/// A torque.
pub fn torque(units: Units, torque: Torque) -> String {
    let metric = format!("{} N·m", figure(torque.nm(), 1));
    match units {
        Units::Metric => metric,
        Units::Imperial => {
            let imperial = figure(torque.nm() / NM_PER_LBF_IN, 0);
            format!("{imperial} lbf·in ({metric})")
        }
    }
}

/// A mass.
pub fn mass(units: Units, mass: Mass) -> String {
    let metric = format!("{} kg", figure(mass.kg(), 1));
    match units {
        Units::Metric => metric,
        // International avoirdupois pound.
        Units::Imperial => format!("{} lb ({metric})", figure(mass.kg() / 0.453_592_37, 0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_on_a_tape() {
        let metric = |mm| length(Units::Metric, Length::from_mm(mm));
        assert_eq!(metric(1350.0), "1350 mm");
        assert_eq!(metric(6.5), "6.5 mm");
        let imperial = |mm| length(Units::Imperial, Length::from_mm(mm));
        assert_eq!(imperial(25.4), "1 in (25.4 mm)");
        assert_eq!(imperial(28.575), "1-1/8 in (28.6 mm)");
        assert_eq!(imperial(4.8), "3/16 in (4.8 mm)");
        assert_eq!(imperial(0.0), "0 in (0 mm)");
        assert_eq!(imperial(-10.0), "-3/8 in (-10 mm)");
    }

    #[test]
    fn nothing_has_no_sign() {
        assert_eq!(figure(-0.0, 1), "0");
        assert_eq!(figure(-0.04, 1), "0");
        assert_eq!(figure(100.0, 1), "100");
        assert_eq!(figure(-10.0, 0), "-10");
    }

    #[test]
    fn what_must_be_kept_is_never_shown_smaller() {
        let kept = |units, mm| at_least(units, Length::from_mm(mm));
        assert_eq!(kept(Units::Imperial, 50.0), "2 in (50 mm)");
        assert_eq!(kept(Units::Metric, 152.4), "153 mm");
    }

    #[test]
    fn a_cut_is_never_too_short() {
        assert_eq!(
            at_least(Units::Imperial, Length::from_mm(1350.0)),
            "53-3/16 in (1350 mm)"
        );
        assert_eq!(at_least(Units::Metric, Length::from_mm(1350.0)), "1350 mm");
    }

    #[test]
    fn torques_and_masses_show_both_units_where_wanted() {
        assert_eq!(torque(Units::Metric, Torque::from_nm(9.5)), "9.5 N·m");
        // 9.5 N·m / 0.112984829 = 84.1 lbf·in
        assert_eq!(
            torque(Units::Imperial, Torque::from_nm(9.5)),
            "84 lbf·in (9.5 N·m)"
        );
        assert_eq!(mass(Units::Imperial, Mass::from_kg(20.0)), "44 lb (20 kg)");
    }

    #[test]
    fn names_are_listed_as_in_speech() {
        let names: Vec<String> = ["a", "b", "c"].map(named).to_vec();
        assert_eq!(listed(&names), "`a`, `b` and `c`");
        assert_eq!(listed(&names[..1]), "`a`");
        assert_eq!(listed(&[]), "");
    }
}
