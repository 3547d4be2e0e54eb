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
/// Further above the rating than the setting's `model_doubt` the check fails, for then table or job
/// is unsound. A lead that the catalog lacks a figure for is open.
pub fn judge(job: &Job, route: &Route, catalog: &Catalog, carried: &[Carried<'_>]) -> Vec<Check> {
    let each = carried.iter();
    each.map(|carried| one(job, &route.leads[carried.lead.0], catalog, carried))
        .collect()
}

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
    let unsound = warm.c() > cable.rating.c() + job.rules.model_doubt.value.k();
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
        let allowed = self.carried.allowed;
        let decides = if allowed <= Current::ZERO {
            "the table allows nothing there either"
        } else if self.carried.continuous > allowed {
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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::check::Verdict::{Fail, Open, Pass};
    use crate::diagnostic::Sources;
    use crate::quantity::ConductorSize;
    use crate::{job, route};

    const JOB: &str = r#"
        title = "Lamp"
        system_voltage = "12 V"
        setting = "road vehicle"
        climate = { cold = "0 C", hot = "30 C" }
        space = [{ name = "cabin", temperature = "30 C" }]
        place = [{ name = "tray", space = "cabin" }, { name = "mast", space = "cabin" }]
        leg = [{ from = "tray", to = "mast", length = "3 m", space = "cabin" }]
        chassis = [
            { name = "tray", place = "tray", stud = "M8" },
            { name = "mast", place = "mast", stud = "M8" },
        ]
        [[lead]]
        name = "bond"
        from = "tray"
        to = "mast"
    "#;

    /// The check of a 25 mm² battery cable alone in air of 30 °C, the current and the table's
    /// figure in parts of what the model allows.
    fn judged(catalog: &Catalog, continuous: f64, allowed: f64) -> Check {
        let mut sources = Sources::default();
        let source = sources.add("job.toml", JOB);
        let job = job::load(source, &sources, catalog).unwrap();
        let route = route::trace(&job, catalog);
        let fits = |cable: &&Cable| {
            cable.family == "fine-strand" && cable.size == ConductorSize::Metric(2500)
        };
        let cable = catalog.cables.iter().find(fits).unwrap();
        let model = Laid::on(&route.leads[0], cable, catalog)
            .map_or(Current::ZERO, |laid| laid.allowed(cable.rating));
        let carried = Carried {
            lead: LeadId(0),
            cable,
            allowed: model * allowed,
            continuous: model * continuous,
        };
        judge(&job, &route, catalog, &[carried]).remove(0)
    }

    #[test]
    fn a_lead_within_table_and_model_passes_without_further_words() {
        let check = judged(
            &Catalog::embedded(&mut Sources::default()).unwrap(),
            0.8,
            1.1,
        );
        assert_eq!(check.verdict, Pass);
        assert_eq!(check.limit, Some(105.0));
        assert!(check.value.unwrap() > 30.0 && check.value.unwrap() < 105.0);
        assert!(check.note.starts_with("by the model"), "{}", check.note);
        assert!(!check.note.contains("quarter"), "{}", check.note);
    }

    #[test]
    fn a_table_more_than_a_quarter_off_is_told() {
        let catalog = Catalog::embedded(&mut Sources::default()).unwrap();
        let strict = judged(&catalog, 0.5, 0.78).note;
        assert!(strict.contains("more than a quarter above"), "{strict}");
        let generous = judged(&catalog, 0.5, 1.4).note;
        assert!(generous.contains("more than a quarter below"), "{generous}");
        let near = judged(&catalog, 0.5, 0.82).note;
        assert!(!near.contains("quarter"), "{near}");
    }

    #[test]
    fn a_little_above_its_rating_it_passes_with_the_doubt_first_and_far_above_it_fails() {
        let catalog = Catalog::embedded(&mut Sources::default()).unwrap();
        let doubtful = judged(&catalog, 1.03, 1.1);
        assert_eq!(doubtful.verdict, Pass);
        assert!(doubtful.value.unwrap() > 105.0);
        assert!(doubtful.note.starts_with("HOTTER"), "{}", doubtful.note);
        assert!(
            doubtful
                .note
                .contains("the table allows the current and decides")
        );
        let unsound = judged(&catalog, 1.15, 1.1);
        assert_eq!(unsound.verdict, Fail);
        assert!(unsound.value.unwrap() > 115.0);
        assert!(unsound.note.contains("the table forbids the current too"));
    }

    #[test]
    fn a_cable_without_figures_is_open() {
        let mut catalog = Catalog::embedded(&mut Sources::default()).unwrap();
        catalog.strandings.clear();
        let check = judged(&catalog, 0.5, 1.0);
        assert_eq!(check.verdict, Open);
        assert!(check.note.contains("stranding class 5"), "{}", check.note);
    }
}
