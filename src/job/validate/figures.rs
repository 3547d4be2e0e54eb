//! Figures that no battery, alternator, load or bond can have.

use super::Job;
use crate::diagnostic::{Diagnostic, Problem, Span};
use crate::quantity::Ratio;

/// One item of the job, and where its mistakes go.
struct Item<'a> {
    name: &'a str,
    span: Span,
    mistakes: &'a mut Vec<Diagnostic>,
}

impl Item<'_> {
    /// Reports a figure that is not above zero.
    fn positive(&mut self, key: &str, figure: Option<f64>) {
        if figure.is_some_and(|figure| figure <= 0.0) {
            self.report(key, "more than nothing");
        }
    }

    fn report(&mut self, key: &str, range: &'static str) {
        let what = format!("the `{key}` of `{}`", self.name);
        let problem = Problem::out_of_range(what, range);
        self.mistakes.push(Diagnostic::new(problem, self.span));
    }
}

/// Every figure that the stages divide by or multiply with is one that can be.
pub fn are_possible(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    batteries(job, mistakes);
    loads(job, mistakes);
    for alternator in &job.alternators {
        let mut item = Item {
            name: &alternator.given.name,
            span: alternator.given.span,
            mistakes,
        };
        let given = &alternator.given;
        item.positive("limit", Some(given.limit.a()));
        item.positive("limit_idle", given.limit_idle.map(|figure| figure.a()));
        item.positive(
            "hot_output",
            given.hot_output.map(|figure| figure.fraction()),
        );
        if given.limit_idle.is_some_and(|idle| idle > given.limit) {
            item.report("limit_idle", "at most its `limit`");
        }
        if given.hot_output.is_some_and(|part| part.fraction() > 1.0) {
            item.report("hot_output", "0 % to 100 %");
        }
    }
    for converter in &job.converters {
        let given = &converter.given;
        let mut item = Item {
            name: &given.name,
            span: given.span,
            mistakes,
        };
        item.positive("output", Some(given.output.v()));
        item.positive("limit", Some(given.limit.a()));
        item.positive("efficiency", given.efficiency.map(|part| part.fraction()));
        if given.efficiency.is_some_and(|part| part.fraction() > 1.0) {
            item.report("efficiency", "0 % to 100 %");
        }
    }
    for bond in &job.bonds {
        if bond.given.resistance.ohm() <= 0.0 {
            let what = "the `resistance` of this bond";
            let problem = Problem::out_of_range(what, "more than nothing");
            mistakes.push(Diagnostic::new(problem, bond.given.span));
        }
    }
}

fn batteries(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    const FULL: Ratio = Ratio::from_fraction(1.0);
    for battery in &job.batteries {
        let given = &battery.given;
        let mut item = Item {
            name: &given.name,
            span: given.span,
            mistakes,
        };
        item.positive("voltage", Some(given.voltage.v()));
        item.positive("capacity", Some(given.capacity.ah()));
        item.positive("cold_crank", given.cold_crank.map(|figure| figure.a()));
        let resistance = given.internal_resistance.map(|figure| figure.ohm());
        item.positive("internal_resistance", resistance);
        item.positive(
            "short_circuit",
            given.short_circuit.map(|figure| figure.a()),
        );
        item.positive("length", given.length.map(|figure| figure.m()));
        item.positive("width", given.width.map(|figure| figure.m()));
        item.positive("height", given.height.map(|figure| figure.m()));
        item.positive("mass", given.mass.map(|figure| figure.kg()));
        if given.charge > FULL {
            item.report("charge", "0 % to 100 %");
        }
    }
}

fn loads(job: &Job, mistakes: &mut Vec<Diagnostic>) {
    for load in &job.loads {
        let given = &load.given;
        let mut item = Item {
            name: &given.name,
            span: given.span,
            mistakes,
        };
        item.positive("current", given.current.map(|figure| figure.a()));
        item.positive("locked", given.locked.map(|figure| figure.a()));
        item.positive("power", given.power.map(|figure| figure.w()));
        item.positive("resistance", given.resistance.map(|figure| figure.ohm()));
        item.positive("longest", given.longest.map(|figure| figure.s()));
        item.positive("rest", given.rest.map(|figure| figure.s()));
        item.positive("inrush", given.inrush.map(|figure| figure.a()));
        item.positive("inrush_time", given.inrush_time.map(|figure| figure.s()));
        item.positive("capacitance", given.capacitance.map(|figure| figure.f()));
        item.positive("precharge", given.precharge.map(|figure| figure.ohm()));
        item.positive("least", given.least.map(|figure| figure.v()));
    }
}
