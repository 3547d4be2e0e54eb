//! Fittings in panels: insulated studs, or rubber rings where the user insists.

use super::FittedPassage;
use super::choose::{Lacks, choose, in_words};
use super::currents::Passing;
use super::ledger::{Hole, Ledger};
use super::site::Site;
use super::studs::StudsOfLugs;
use super::words::{amps, mm, practice, source_of};
use crate::catalog::{FeedThrough, Grommet, Part, PartKind};
use crate::check::{Check, CheckRule};
use crate::job::{LeadId, Panel, PanelId, PanelMaterial, Passage};
use crate::quantity::Length;

/// Chooses a fitting for every panel that a lead passes.
pub(super) fn fit(site: Site<'_>, ledger: &mut Ledger) -> Vec<FittedPassage> {
    let mut passages = Vec::new();
    for (lead, _) in site.job.leads() {
        let crossings = site.way(lead).map_or(&[][..], |way| &way.crossings);
        for crossing in crossings {
            let passage = Crossing {
                site,
                lead,
                id: crossing.panel,
                panel: site.job.panel(crossing.panel),
                lugs_for: StudsOfLugs::of(site.catalog, site.cable(lead).as_slice()),
            };
            passages.push(match passage.panel.passage {
                Passage::FeedThrough => passage.feed_through(ledger),
                Passage::Grommet => passage.grommet(ledger),
            });
        }
    }
    passages
}

/// One lead at one panel.
struct Crossing<'a> {
    site: Site<'a>,
    lead: LeadId,
    id: PanelId,
    panel: &'a Panel,
    lugs_for: StudsOfLugs,
}

impl Crossing<'_> {
    fn subject(&self) -> String {
        format!("{} through {}", self.site.name(self.lead), self.panel.name)
    }

    fn feed_through(&self, ledger: &mut Ledger) -> FittedPassage {
        let passing = self.site.passing_lead(self.lead);
        let rank = |part: &FeedThrough| {
            let foreign = self.site.foreign(part.stud);
            [foreign, part.hole.mm(), part.rating.a()]
        };
        let rows = &self.site.catalog.feed_throughs;
        let mut passage = FittedPassage {
            lead: self.lead,
            panel: self.id,
            kind: PartKind::FeedThrough,
            part: None,
            stud: None,
            hole: None,
        };
        match choose(
            rows,
            |part, lacks| self.judge_feed_through(part, passing, lacks),
            rank,
        ) {
            Ok(part) => {
                passage.part = Some(part.id.value.clone());
                passage.stud = Some(part.stud);
                passage.hole = Some(part.hole);
                self.fitted(part, part.hole, ledger);
                self.check(part, passing, ledger);
            }
            Err(nearest) => {
                let wanted = format!(
                    "a feed-through in {} ({} {}) for {}: {} for hours, {} for a short time",
                    self.panel.name,
                    mm(self.panel.thickness),
                    self.panel.material,
                    self.site.name(self.lead),
                    amps(passing.continuous),
                    amps(passing.short)
                );
                let cure = "Lead it round the panel, share the current between two leads, \
                            or let the panel be passed by a grommet";
                self.failed(wanted, nearest, cure, ledger);
            }
        }
        passage
    }

    fn check(&self, part: &FeedThrough, passing: Passing, ledger: &mut Ledger) {
        let (subject, source) = (self.subject(), source_of(part));
        for (value, most, what) in [
            (passing.continuous, part.rating, "continuous current"),
            (passing.short, part.intermittent, "short-time current"),
        ] {
            let limit = source.map(|()| most.a());
            let check = Check::at_most(CheckRule::Crossing, &subject, value.a(), &limit, "A");
            let note = format!("{what} through the stud");
            ledger.checks.push(check.with_note(note));
        }
    }

    fn judge_feed_through(&self, part: &FeedThrough, passing: Passing, lacks: &mut Lacks) {
        let thickness = self.panel.thickness;
        lacks.at_least(part.rating.a(), passing.continuous.a(), || {
            let (has, needs) = (amps(part.rating), amps(passing.continuous));
            format!("carries {has} for hours, the lead brings {needs}")
        });
        lacks.at_least(part.intermittent.a(), passing.short.a(), || {
            let (has, needs) = (amps(part.intermittent), amps(passing.short));
            format!("carries {has} for a short time, the lead brings {needs}")
        });
        lacks.at_most(part.min_panel.mm(), thickness.mm(), || {
            let (has, needs) = (mm(part.min_panel), mm(thickness));
            format!("grips panels from {has}, this one is {needs}")
        });
        lacks.at_least(part.max_panel.mm(), thickness.mm(), || {
            let (has, needs) = (mm(part.max_panel), mm(thickness));
            format!("passes panels up to {has}, this one is {needs}")
        });
        let row = self.site.catalog.stud(part.stud, part.material);
        lacks.unless(
            row.is_some_and(|row| row.current >= passing.continuous),
            || {
                format!(
                    "no table lets a {} stud {} carry {}",
                    part.material,
                    part.stud,
                    amps(passing.continuous)
                )
            },
        );
        self.lugs_for.exist(part.stud, lacks);
    }

    fn grommet(&self, ledger: &mut Ledger) -> FittedPassage {
        let mut passage = FittedPassage {
            lead: self.lead,
            panel: self.id,
            kind: PartKind::Grommet,
            part: None,
            stud: None,
            hole: None,
        };
        let diameter = self.site.diameter(self.lead).unwrap_or(Length::ZERO);
        let rank = |part: &Grommet| [part.hole.mm(), part.max_cable.mm()];
        let judge = |part: &Grommet, lacks: &mut Lacks| self.judge_grommet(part, diameter, lacks);
        match choose(&self.site.catalog.grommets, judge, rank) {
            Ok(part) => {
                passage.part = Some(part.id.value.clone());
                passage.hole = Some(part.hole);
                self.fitted(part, part.hole, ledger);
                let source = source_of(part);
                let check = Check::holds(CheckRule::Crossing, &self.subject(), true, &source);
                ledger.checks.push(check.with_note(
                    "the cable goes through uncut; clamp it on both sides so that it cannot work \
                     in the ring, and look at the ring at every service",
                ));
            }
            Err(nearest) => {
                let wanted = format!(
                    "a grommet in {} ({}) for {}, {} thick",
                    self.panel.name,
                    mm(self.panel.thickness),
                    self.site.name(self.lead),
                    mm(diameter)
                );
                let cure = "Pass the panel by a feed-through";
                self.failed(wanted, nearest, cure, ledger);
            }
        }
        passage
    }

    fn judge_grommet(&self, part: &Grommet, diameter: Length, lacks: &mut Lacks) {
        let thickness = self.panel.thickness;
        lacks.at_most(part.min_cable.mm(), diameter.mm(), || {
            let (has, needs) = (mm(part.min_cable), mm(diameter));
            format!("holds cables from {has}, this one is {needs}")
        });
        lacks.at_least(part.max_cable.mm(), diameter.mm(), || {
            let (has, needs) = (mm(part.max_cable), mm(diameter));
            format!("holds cables up to {has}, this one is {needs}")
        });
        lacks.at_least(part.max_panel.mm(), thickness.mm(), || {
            let (has, needs) = (mm(part.max_panel), mm(thickness));
            format!("its groove takes panels up to {has}, this one is {needs}")
        });
    }

    fn fitted(&self, part: &dyn Part, hole: Length, ledger: &mut Ledger) {
        ledger.need(part, 1, self.subject());
        ledger.holes.push(Hole {
            diameter: hole,
            steel: self.panel.material == PanelMaterial::Steel,
        });
    }

    fn failed(
        &self,
        wanted: String,
        nearest: Vec<super::NearMiss>,
        cure: &str,
        ledger: &mut Ledger,
    ) {
        let check = Check::holds(CheckRule::Crossing, &self.subject(), false, &practice());
        let note = format!(
            "nothing in the catalog fits; {}. {cure}",
            in_words(&nearest)
        );
        ledger.checks.push(check.with_note(note));
        ledger.misfit(wanted, nearest);
    }
}
