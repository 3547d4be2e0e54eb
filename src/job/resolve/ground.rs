//! Spaces, panels, places and legs.

use super::Resolver;
use crate::diagnostic::{Diagnostic, Problem};
use crate::job::file::{LegFile, PanelFile, PlaceFile, SpaceFile};
use crate::job::id::{PanelId, PlaceId, SpaceId};
use crate::job::model::{Leg, Panel, Place, Position, Space};
use crate::quantity::{Length, Ratio};

/// Longest leg and most bends that are taken for measured and not for a slip of the pen.
const LONGEST_LEG: Length = Length::from_m(100.0);
const MOST_BENDS: u32 = 50;

/// Spaces refer to nothing.
pub fn spaces(given: Vec<SpaceFile>) -> Vec<Space> {
    let spaces = given.into_iter().map(|space| Space {
        name: space.name.value,
        temperature: space.temperature,
        engine_space: space.engine_space,
        occupied: space.occupied,
        wet: space.wet,
        vapour: space.vapour,
    });
    spaces.collect()
}

impl Resolver<'_> {
    pub(super) fn all_panels(&mut self, given: Vec<PanelFile>) -> Vec<Panel> {
        let panels = given.into_iter().map(|panel| {
            if panel.thickness <= Length::ZERO {
                let what = format!("the thickness of `{}`", *panel.name);
                let problem = Problem::out_of_range(what, "more than nothing");
                self.report(problem, panel.span);
            }
            Panel {
                name: panel.name.value,
                thickness: panel.thickness,
                material: panel.material,
                passage: panel.passage,
            }
        });
        panels.collect()
    }

    pub(super) fn all_places(&mut self, given: Vec<PlaceFile>) -> Vec<Place> {
        let places = given.into_iter().map(|place| {
            let space = self.spaces.find(&place.space, &mut self.mistakes);
            let position = self.position(&place);
            self.positions.push(position);
            Place {
                space: SpaceId(space.unwrap_or_default()),
                name: place.name.value,
                position,
            }
        });
        places.collect()
    }

    /// Where a place is: all three measures, or none.
    fn position(&mut self, place: &PlaceFile) -> Option<Position> {
        let given = [
            ("`from_back`", &place.from_back),
            ("`from_left`", &place.from_left),
            ("`height`", &place.height),
        ];
        let missing = given.iter().filter(|(_, measure)| measure.is_none());
        let missing: Vec<&str> = missing.map(|(key, _)| *key).collect();
        for (key, measure) in given {
            let Some(measure) = measure else { continue };
            if measure.value > LONGEST_LEG {
                let problem = Problem::out_of_range(key, "at most 100 m");
                self.report(problem, measure.span);
            }
            if !missing.is_empty() {
                let reason = format!("{key} alone does not tell where `{}` is", *place.name);
                let help = format!("give {} too, or leave all three out", missing.join(" and "));
                let problem = Problem::contradiction_with_help(reason, help);
                self.report(problem, measure.span);
            }
        }
        Some(Position {
            from_back: place.from_back.as_ref()?.value,
            from_left: place.from_left.as_ref()?.value,
            height: place.height.as_ref()?.value,
        })
    }

    /// A leg cannot be shorter than the straight line between its ends.
    fn check_straight(&mut self, leg: &LegFile, ends: (PlaceId, PlaceId), tolerance: Ratio) {
        let position = |place: PlaceId| self.positions.get(place.0).copied().flatten();
        let (Some(from), Some(to)) = (position(ends.0), position(ends.1)) else {
            return;
        };
        let straight = from.straight(to);
        if leg.length.value < straight * (1.0 - tolerance.fraction()) {
            let reason = format!(
                "this leg is {:.2} m long, but `{}` and `{}` are {:.2} m apart in a straight line",
                leg.length.value.m(),
                *leg.from,
                *leg.to,
                straight.m()
            );
            let help = "measure the leg along the cable's way, and the places from the same zero";
            let problem = Problem::contradiction_with_help(reason, help);
            self.report(problem, leg.length.span);
        }
    }

    pub(super) fn leg(&mut self, leg: LegFile, tolerance: Ratio) -> Leg {
        self.check_leg(&leg);
        let (from, to) = (self.place(&leg.from), self.place(&leg.to));
        self.check_straight(&leg, (from, to), tolerance);
        let space = self.spaces.find(&leg.space, &mut self.mistakes);
        let panel = leg.panel.as_ref().and_then(|name| {
            let found = self.panels.find(name, &mut self.mistakes);
            found.map(PanelId)
        });
        let length = leg.length.value;
        let at = leg.panel_at.map_or(length * 0.5, |at| at.value);
        Leg {
            from,
            to,
            length,
            space: SpaceId(space.unwrap_or_default()),
            access: leg.access,
            crossing: panel.map(|panel| (panel, at)),
            bends: leg.bends,
            bend_radius: leg.bend_radius,
            sheathed: leg.sheathed,
            hazards: leg.hazard,
        }
    }

    fn check_leg(&mut self, leg: &LegFile) {
        let length = &leg.length;
        if length.value <= Length::ZERO || length.value > LONGEST_LEG {
            let problem = Problem::out_of_range(
                "the length of this leg",
                "more than nothing and at most 100 m",
            );
            self.report(problem, length.span);
        }
        if leg.bends > MOST_BENDS {
            let problem = Problem::out_of_range("the number of bends", "at most 50");
            self.report(problem, leg.span);
        }
        if leg.from.value == leg.to.value {
            let reason = format!("this leg leads from `{}` to itself", *leg.from);
            self.report(Problem::contradiction(reason), leg.to.span);
        }
        let Some(at) = &leg.panel_at else { return };
        if leg.panel.is_none() {
            let problem = Problem::contradiction_with_help(
                "this tells where a panel is, but the leg crosses none",
                "give the key `panel` too, or take `panel_at` away",
            );
            self.report(problem, at.span);
        } else if at.value > length.value {
            let reason = "the panel is farther away than the leg is long";
            let mistake = Diagnostic::new(Problem::contradiction(reason), at.span);
            self.mistakes
                .push(mistake.with_related(length.span, "the length of the leg"));
        }
    }
}
