//! Where the table of the setting and the model of the heat disagree.

use super::Laid;
use crate::catalog::{Cable, Catalog, Cited};
use crate::check::{Check, CheckRule, Verdict};
use crate::job::{Job, LeadId};
use crate::quantity::{Current, Temperature};
use crate::route::{LeadRoute, Route};

/// What a lead carries for hours.
#[derive(Debug, Clone, Copy)]
pub struct Carried<'a> {
    /// Which lead.
    pub lead: LeadId,
    /// Its cable.
    pub cable: &'a Cable,
    /// What the table of the setting allows where it lies.
    pub allowed: Current,
    /// The largest current that flows for hours.
    pub continuous: Current,
}

/// One check a lead: the temperature that the model gives its conductor, against its rating.
///
/// The table decides what a lead may carry, so that a lead within its table passes here although
/// the model has it a little above its rating, and the note says so first: the constants of the
/// model are no better than that, and it reckons a bundle as if every lead in it carried the same.
/// More than 10 K above the rating the check fails, for then table or job is unsound; insulation
/// ages twice as fast for each 10 K, by the usual rule of thumb. A lead that the catalog lacks a
/// figure for is open.
pub fn judge(job: &Job, route: &Route, catalog: &Catalog, carried: &[Carried<'_>]) -> Vec<Check> {
    let each = carried.iter();
    each.map(|carried| one(job, &route.leads[carried.lead.0], catalog, carried))
        .collect()
}

/// So far above its rating a conductor is in doubt only.
const DOUBT_K: f64 = 10.0;

fn one(job: &Job, way: &LeadRoute, catalog: &Catalog, carried: &Carried<'_>) -> Check {
    let name = &job.lead(carried.lead).name;
    let cable = carried.cable;
    let insulation = catalog.insulation(cable.insulation);
    let (Some(laid), Some(insulation)) = (Laid::on(way, cable, catalog), insulation) else {
        let reason = format!(
            "the catalog lacks a figure to reckon the heat of {}, insulated with {}, stranding class {}",
            cable.material, cable.insulation, cable.conductor_class
        );
        return Check::open(CheckRule::Heat, name, &reason);
    };
    let limit = Cited {
        value: cable.rating.c(),
        citation: format!("IEC 60287-1-1; {}", insulation.citation),
        basis: insulation.basis,
    };
    let warm = laid.steady(carried.continuous);
    let mut check = Check::at_most(CheckRule::Heat, name, warm.c(), &limit, "°C");
    let words = Words {
        way,
        carried,
        warm,
        model: laid.allowed(cable.rating),
    };
    let unsound = warm.c() > cable.rating.c() + DOUBT_K;
    check.verdict = if unsound {
        Verdict::Fail
    } else {
        Verdict::Pass
    };
    check.with_note(words.note())
}

/// What the note of a check is made of.
struct Words<'a> {
    way: &'a LeadRoute,
    carried: &'a Carried<'a>,
    warm: Temperature,
    model: Current,
}

impl Words<'_> {
    fn note(&self) -> String {
        let found = self.found();
        let notes = [self.too_hot(), Some(found), self.disagreement()];
        notes.into_iter().flatten().collect::<Vec<_>>().join("; ")
    }

    /// What the model reckons.
    fn found(&self) -> String {
        let together = match self.way.bundled_with {
            0 | 1 => String::new(),
            more => format!(", {more} leads together as if all carried the same"),
        };
        format!(
            "by the model {:.0} °C at {:.0} A for hours in air of {:.0} °C{together}",
            self.warm.c(),
            self.carried.continuous.a(),
            self.way.ambient.c(),
        )
    }

    /// That the conductor gets too hot, if it does.
    fn too_hot(&self) -> Option<String> {
        let rating = self.carried.cable.rating;
        let decides = if self.carried.continuous > self.carried.allowed {
            "the table forbids the current too"
        } else {
            "the table allows the current and decides"
        };
        (self.warm > rating).then(|| {
            format!(
                "HOTTER THAN ITS RATING of {:.0} °C by the model, {decides}; take a thicker cable, a \
                 cooler way or a smaller bundle",
                rating.c()
            )
        })
    }

    /// How far the model is from the table, if by more than a quarter of the table.
    fn disagreement(&self) -> Option<String> {
        const QUARTER: f64 = 0.25;
        let (model, table) = (self.model, self.carried.allowed);
        let far = (model - table).a().abs() > QUARTER * table.a();
        let side = if model > table { "above" } else { "below" };
        (far && table > Current::ZERO).then(|| {
            format!(
                "the model would allow {:.0} A, more than a quarter {side} the {:.0} A of the table, \
                 which decides",
                model.a(),
                table.a()
            )
        })
    }
}
