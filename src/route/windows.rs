//! Stretches of a leg that must each hold a support, and the fewest supports that do.

use super::SupportReason;
use crate::job::Leg;
use crate::quantity::Length;

/// Supports nearer to each other than this cannot be fitted, whatever a rule says.
const CLOSEST: Length = Length::from_mm(10.0);

/// No leg is given more supports than this; a leg that would need more is a slip of the pen.
const MOST: f64 = 5_000.0;

/// Equal positions must not become two supports by binary rounding.
const HAIR: Length = Length::from_m(1e-9);

/// A stretch of a leg that must hold a support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    from: Length,
    to: Length,
    reason: SupportReason,
}

/// The half of the reach beyond `point` that is farther from it: a support there is near enough and
/// leaves room for hands.
pub fn beyond(point: Length, reach: Length, reason: SupportReason) -> Window {
    Window {
        from: point + reach * 0.5,
        to: point + reach,
        reason,
    }
}

/// The same on the near side of `point`.
pub fn before(point: Length, reach: Length, reason: SupportReason) -> Window {
    Window {
        from: point - reach,
        to: point - reach * 0.5,
        reason,
    }
}

/// Windows on both sides of every panel and bend of a leg.
///
/// Where the bends of a leg lie was not measured; they are taken to be spread evenly along it.
pub fn beside_obstacles(leg: &Leg, reach: Length) -> Vec<Window> {
    let mut windows = Vec::new();
    if let Some((_, at)) = leg.crossing {
        let room = leg.length - at;
        // The side that lies on the next leg is that leg's to support.
        if at > Length::ZERO {
            windows.push(before(at, reach.min(at), SupportReason::Panel));
        }
        if room > Length::ZERO {
            windows.push(beyond(at, reach.min(room), SupportReason::Panel));
        }
    }
    let most = (leg.length / CLOSEST).min(MOST);
    let bends = leg.bends.min(most as u32);
    let apart = leg.length / f64::from(bends + 1);
    for bend in 1..=bends {
        let at = apart * f64::from(bend);
        windows.push(before(at, reach.min(apart), SupportReason::Bend));
        windows.push(beyond(at, reach.min(apart), SupportReason::Bend));
    }
    windows
}

/// The fewest positions so that each window holds one, with the weightiest reason for each.
pub fn fewest(mut windows: Vec<Window>) -> Vec<(Length, SupportReason)> {
    windows.sort_by(|a, b| {
        let ends = a.to.total_cmp(&b.to);
        ends.then(a.from.total_cmp(&b.from))
    });
    let mut positions: Vec<(Length, SupportReason)> = Vec::new();
    for window in windows {
        match positions.last_mut() {
            Some((at, reason)) if *at + HAIR >= window.from => {
                if weight(window.reason) > weight(*reason) {
                    *reason = window.reason;
                }
            }
            _ => positions.push((window.to, window.reason)),
        }
    }
    positions
}

fn weight(reason: SupportReason) -> u8 {
    match reason {
        SupportReason::Spacing => 0,
        SupportReason::Bend => 1,
        SupportReason::Panel => 2,
        SupportReason::NearEnd => 3,
    }
}

/// Adds positions so that no two neighbours are farther apart than `spacing`.
pub fn filled(
    positions: Vec<(Length, SupportReason)>,
    leg: Length,
    spacing: Length,
) -> Vec<(Length, SupportReason)> {
    let spacing = spacing.max(CLOSEST).max(leg / MOST);
    let mut filled: Vec<(Length, SupportReason)> = Vec::new();
    for (at, reason) in positions {
        if let Some((last, _)) = filled.last().copied() {
            let gap = at - last;
            let parts = ((gap - HAIR) / spacing).ceil().max(1.0) as u32;
            for part in 1..parts {
                let share = f64::from(part) / f64::from(parts);
                filled.push((last + gap * share, SupportReason::Spacing));
            }
        }
        filled.push((at, reason));
    }
    filled
}

#[cfg(test)]
mod tests {
    use super::*;

    fn window(from: f64, to: f64, reason: SupportReason) -> Window {
        Window {
            from: Length::from_m(from),
            to: Length::from_m(to),
            reason,
        }
    }

    #[test]
    fn windows_that_overlap_share_a_support_with_the_weightier_reason() {
        let windows = vec![
            window(0.4, 0.6, SupportReason::Panel),
            window(0.1, 0.5, SupportReason::Bend),
            window(0.7, 0.9, SupportReason::NearEnd),
        ];
        let expected = vec![
            (Length::from_m(0.5), SupportReason::Panel),
            (Length::from_m(0.9), SupportReason::NearEnd),
        ];
        assert_eq!(fewest(windows), expected);
    }

    #[test]
    fn a_gap_of_two_spacings_and_a_bit_is_halved_twice() {
        let ends = vec![
            (Length::ZERO, SupportReason::NearEnd),
            (Length::from_m(1.0), SupportReason::NearEnd),
        ];
        let filled = filled(ends, Length::from_m(1.0), Length::from_m(0.45));
        let metres: Vec<f64> = filled.iter().map(|(at, _)| at.m()).collect();
        assert_eq!(metres.len(), 4);
        assert!((metres[1] - 1.0 / 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_spacing_of_nothing_does_not_ask_for_supports_without_end() {
        let ends = vec![
            (Length::ZERO, SupportReason::NearEnd),
            (Length::from_m(1e9), SupportReason::NearEnd),
        ];
        let filled = filled(ends, Length::from_m(1e9), Length::ZERO);
        assert_eq!(filled.len(), 5_001);
    }
}
