//! What is cut: the routed length and all that is added to it or taken off.

use super::LengthTerm;
use crate::catalog::RuleSet;
use crate::quantity::Length;

/// How the length of a cable is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// It is laid along measured legs.
    Laid,
    /// It joins a source to the protection beside it, and its whole length is given.
    Link,
    /// It joins two studs at one place, between which nothing was measured.
    SamePlace,
}

/// Which ends of a cable have a flex loop.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Loops {
    /// The first.
    pub first: bool,
    /// The last.
    pub last: bool,
}

/// Length of conductor that lies between the two studs once the cable is in place, with what is
/// kept as slack; by this the distance of a protection from its source is judged.
pub fn conductor(rules: &RuleSet, routed: Length, kind: Kind, loops: Loops) -> Length {
    let kept = kept(rules, kind, loops);
    routed + kept.iter().map(|term| term.length).sum()
}

/// Every term of the cut length. They add up to a whole multiple of the cutting step.
pub fn terms(rules: &RuleSet, routed: Length, kind: Kind, loops: Loops) -> Vec<LengthTerm> {
    let mut terms = vec![term(routed_reason(kind), routed)];
    terms.extend(kept(rules, kind, loops));
    if kind == Kind::Laid {
        let tolerance = routed * rules.measuring_tolerance.value.fraction();
        terms.push(term("measuring tolerance", tolerance));
    }
    let take_up = Length::ZERO - rules.lug_take_up.value;
    terms.push(term("taken up by the lug at the first end", take_up));
    terms.push(term("taken up by the lug at the last end", take_up));
    let exact: Length = terms.iter().map(|term| term.length).sum();
    let rounded = rounded_up(exact, rules.cutting_step.value);
    terms.push(term("rounded up to the cutting step", rounded - exact));
    terms
}

fn term(reason: &str, length: Length) -> LengthTerm {
    LengthTerm {
        reason: reason.to_owned(),
        length,
    }
}

fn routed_reason(kind: Kind) -> &'static str {
    match kind {
        Kind::Laid => "routed length",
        Kind::Link => "link from the source to its protection",
        Kind::SamePlace => "least length between two studs at one place, not measured",
    }
}

/// What is added and stays in the cable. A link is of the length given: slack in it would put the
/// protection farther from the source.
fn kept(rules: &RuleSet, kind: Kind, loops: Loops) -> Vec<LengthTerm> {
    let mut kept = Vec::new();
    let mut end = |slack: &str, flexes: bool, remake: &str| {
        if kind != Kind::Link {
            kept.push(term(slack, rules.end_slack.value));
        }
        if flexes {
            let reason = "flex loop at the end that moves with the engine";
            kept.push(term(reason, rules.flex_loop.value));
        }
        if kind != Kind::Link {
            kept.push(term(remake, rules.remake_allowance.value));
        }
    };
    end(
        "slack at the first end",
        loops.first,
        "kept for making the first end anew",
    );
    end(
        "slack at the last end",
        loops.last,
        "kept for making the last end anew",
    );
    kept
}

/// Never less than one step: what lugs take up must not leave nothing.
fn rounded_up(exact: Length, step: Length) -> Length {
    if step > Length::ZERO {
        exact.max(step).rounded_up_to(step)
    } else {
        exact
    }
}
