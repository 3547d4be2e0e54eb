//! The job's own figures in place of a setting's rules.

use super::rules_file::RulesFile;
use crate::catalog::{Basis, Cited, RuleSet};
use crate::diagnostic::{Diagnostic, Problem};
use crate::quantity::{ConductorSize, Length, Ratio, Resistance, TemperatureDifference, Voltage};

/// A rule that the job made less strict than the setting has it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Loosened {
    /// The key of the rule.
    pub rule: &'static str,
    /// The setting's own figure.
    pub setting: String,
    /// The figure of the job.
    pub job: String,
    /// Publication behind the setting's own figure.
    pub citation: String,
}

/// A figure of a rule as documents show it.
trait Shown {
    fn shown(&self) -> String;
}

impl Shown for Length {
    fn shown(&self) -> String {
        self.metric()
    }
}

impl Shown for Ratio {
    fn shown(&self) -> String {
        format!("{:.1} %", self.percent())
    }
}

impl Shown for Voltage {
    fn shown(&self) -> String {
        format!("{:.2} V", self.v())
    }
}

impl Shown for TemperatureDifference {
    fn shown(&self) -> String {
        format!("{:.1} K", self.k())
    }
}

impl Shown for ConductorSize {
    fn shown(&self) -> String {
        self.to_string()
    }
}

impl Shown for Resistance {
    fn shown(&self) -> String {
        format!("{:.1} mohm", self.milliohm())
    }
}

impl Shown for bool {
    fn shown(&self) -> String {
        if *self { "yes" } else { "no" }.to_owned()
    }
}

impl Shown for u32 {
    fn shown(&self) -> String {
        self.to_string()
    }
}

/// Which way a rule is stricter.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stricter {
    Smaller,
    Larger,
}

/// The job's own figures that no work could be planned by.
pub fn figures(own: &RulesFile) -> Vec<Diagnostic> {
    const LEAST_SPACING: Length = Length::from_mm(20.0);
    const LARGEST_TOLERANCE: Ratio = Ratio::from_fraction(0.9);
    let small = |length: Option<Length>| length.is_some_and(|length| length < LEAST_SPACING);
    let vague = |part: Option<Ratio>| part.is_some_and(|part| part > LARGEST_TOLERANCE);
    let tolerances = [
        (own.tolerance_length, "`tolerance_length`"),
        (own.tolerance_conductor, "`tolerance_conductor`"),
        (own.tolerance_joint, "`tolerance_joint`"),
        (own.tolerance_load, "`tolerance_load`"),
        (own.tolerance_charge, "`tolerance_charge`"),
        (own.tolerance_battery, "`tolerance_battery`"),
        (own.tolerance_regulation, "`tolerance_regulation`"),
    ];
    let faults = [
        (
            small(own.support_spacing),
            "`support_spacing`",
            "at least 20 mm",
        ),
        (
            small(own.support_near_end),
            "`support_near_end`",
            "at least 20 mm",
        ),
        (
            own.aged_resistance
                .is_some_and(|ratio| ratio < Ratio::from_fraction(1.0)),
            "`aged_resistance`",
            "at least 100 %",
        ),
        (
            own.lugs_per_stud == Some(0),
            "`lugs_per_stud`",
            "at least 1",
        ),
    ];
    let tolerances = tolerances.map(|(part, what)| (vague(part), what, "at most 90 %"));
    let all = faults.into_iter().chain(tolerances);
    let found = all.filter(|(wrong, ..)| *wrong);
    found
        .map(|(_, what, range)| Diagnostic::new(Problem::out_of_range(what, range), own.span))
        .collect()
}

/// Puts the job's figures in place, and tells which loosen the setting.
pub fn apply(mut rules: RuleSet, job: &RulesFile) -> (RuleSet, Vec<Loosened>) {
    use Stricter::{Larger, Smaller};
    let mut loosened = Vec::new();
    macro_rules! put {
        ($($key:ident $stricter:ident),+ $(,)?) => {
            $( replace(&mut rules.$key, job.$key, stringify!($key), $stricter, &mut loosened); )+
        };
    }
    put!(
        support_spacing Smaller,
        support_near_end Smaller,
        protection_distance Smaller,
        protection_most Smaller,
        protection_least Larger,
        lugs_per_stud Smaller,
        spare_studs Larger,
        drop_critical Smaller,
        drop_ordinary Smaller,
        drop_intermittent Smaller,
        drop_charging Smaller,
        cranking_drop_positive Smaller,
        cranking_drop_return Smaller,
        tolerance_length Larger,
        tolerance_conductor Larger,
        tolerance_joint Larger,
        tolerance_load Larger,
        tolerance_charge Larger,
        tolerance_battery Larger,
        tolerance_regulation Larger,
        tolerance_temperature Larger,
        least_size Larger,
        gap_hot_surface Larger,
        gap_moving_part Larger,
        gap_fuel_line Larger,
        end_slack Larger,
        measuring_tolerance Larger,
        aged_resistance Larger,
        fault_contact Larger,
        selectivity Larger,
    );
    if let Some(own) = job.protection_distance {
        let sheathed: Length = rules.protection_distance_sheathed.value.min(own);
        rules.protection_distance_sheathed.value = sheathed;
    }
    (rules, loosened)
}

fn replace<T: PartialOrd + Copy + Shown>(
    rule: &mut Cited<T>,
    own: Option<T>,
    key: &'static str,
    stricter: Stricter,
    loosened: &mut Vec<Loosened>,
) {
    let Some(own) = own else { return };
    let looser = match stricter {
        Stricter::Smaller => own > rule.value,
        Stricter::Larger => own < rule.value,
    };
    if looser {
        loosened.push(Loosened {
            rule: key,
            setting: rule.value.shown(),
            job: own.shown(),
            citation: rule.citation.clone(),
        });
    }
    *rule = Cited {
        value: own,
        citation: "the job file".to_owned(),
        basis: Basis::User,
    };
}
