//! A small pickup with a battery in the bed, for the tests of this stage.
#![allow(clippy::unwrap_used, clippy::panic)]

use super::{End, Fittings, fit};
use crate::catalog::{Catalog, embedded, load as load_catalog};
use crate::check::{Check, CheckRule, Verdict};
use crate::circuit::{Frames, Operation, Wiring, operate};
use crate::diagnostic::{Sources, render};
use crate::job::{Job, LeadId, load as load_job};
use crate::protection::Protection;
use crate::quantity::Resistance;
use crate::route::{Route, trace};
use crate::sizing::{Sizing, choose as choose_sizes};

/// Every stage before this one, open to be changed by a test.
pub struct Bench {
    pub job: Job,
    pub route: Route,
    pub sizing: Sizing,
    pub protection: Protection,
    pub operation: Operation,
    pub catalog: Catalog,
}

/// What a test may change in the text of the job.
pub struct Text {
    pub head: &'static str,
    pub battery: &'static str,
    pub parts: &'static str,
    pub leads: &'static str,
    pub leg: &'static str,
    pub panel: &'static str,
    pub catalog: &'static str,
}

/// Battery in the bed, a bus in front behind the bulkhead, a starter and a heater.
pub const PICKUP: Text = Text {
    head: "setting = 'road vehicle'",
    battery: "post = 'tapered'",
    parts: "",
    leads: "",
    leg: "",
    panel: "thickness = '1 mm'\nmaterial = 'steel'",
    catalog: "",
};

impl Text {
    fn job(&self) -> String {
        let (head, battery, parts) = (self.head, self.battery, self.parts);
        let (leads, leg, panel) = (self.leads, self.leg, self.panel);
        let leads = if leads.is_empty() { LEADS } else { leads };
        format!(
            "title = 'pickup'\nsystem_voltage = '12 V'\n{head}\n\
             climate = {{ cold = '-10 C', hot = '35 C' }}\n\
             [[space]]\nname = 'bed'\ntemperature = '40 C'\n\
             [[space]]\nname = 'front'\ntemperature = '70 C'\nengine_space = true\nwet = true\n\
             [[place]]\nname = 'tray'\nspace = 'bed'\n\
             [[place]]\nname = 'block'\nspace = 'front'\n\
             [[panel]]\nname = 'bulkhead'\n{panel}\n\
             [[leg]]\nfrom = 'tray'\nto = 'block'\nlength = '2 m'\nspace = 'front'\n\
             panel = 'bulkhead'\n{leg}\n\
             [[battery]]\nname = 'main'\nplace = 'tray'\nchemistry = 'absorbed glass mat'\n\
             voltage = '12 V'\ncapacity = '70 Ah'\ncold_crank = '700 A'\n{battery}\n\
             [[chassis]]\nname = 'earth bed'\nplace = 'tray'\nstud = 'M10'\n\
             [[chassis]]\nname = 'engine'\nplace = 'block'\nstud = 'M10'\n\
             [[bond]]\nfrom = 'earth bed'\nto = 'engine'\nresistance = '1 mohm'\n\
             [[load]]\nname = 'heater'\nplace = 'block'\nkind = 'constant current'\n\
             current = '60 A'\nstud = 'M8'\ncase = 'engine'\n\
             [[bus]]\nname = 'front bus'\nplace = 'block'\npolarity = 'positive'\n{parts}\n{leads}"
        )
    }

    /// Runs the stages before this one.
    pub fn bench(&self) -> Bench {
        let mut sources = Sources::default();
        let base = embedded(&mut sources);
        let own = sources.add("own.toml", self.catalog);
        let catalog = load_catalog(&[base, vec![own]], &sources);
        let catalog = catalog.unwrap_or_else(|found| panic!("{}", render(&found, &sources, false)));
        let source = sources.add("job.toml", self.job());
        let job = load_job(source, &sources, &catalog);
        let job = job.unwrap_or_else(|found| panic!("{}", render(&found, &sources, false)));
        let route = trace(&job, &catalog);
        let sizing = choose_sizes(&job, &route, &catalog);
        let mut bench = Bench {
            job,
            route,
            sizing,
            protection: Protection {
                coverage: crate::protection::Coverage::default(),
                guards: Vec::new(),
                checks: Vec::new(),
            },
            operation: Operation {
                states: Vec::new(),
                lasting: Vec::new(),
                checks: Vec::new(),
            },
            catalog,
        };
        bench.protection = crate::protection::choose(&bench.wiring(), &bench.sizing);
        bench.operation = operate(&bench.wiring());
        bench
    }

    /// Runs the stages up to this one.
    pub fn fit(&self) -> (Bench, Fittings) {
        let bench = self.bench();
        let fittings = bench.fit();
        (bench, fittings)
    }
}

/// A feed through the bulkhead to the bus, a branch to the heater and the battery's earth.
const LEADS: &str = "[[lead]]\nname = 'main feed'\nfrom = 'main +'\nto = 'front bus'\n\
    [[lead]]\nname = 'heater feed'\nfrom = 'front bus'\nto = 'heater +'\n\
    [[lead]]\nname = 'earth'\nfrom = 'main -'\nto = 'earth bed'\n";

impl Bench {
    fn wiring(&self) -> Wiring<'_> {
        let cable = |id: &str| {
            let found = self.catalog.cables.iter().find(|cable| *cable.id == id);
            found.unwrap()
        };
        let leads = &self.sizing.leads;
        let guard = |lead: usize| {
            let guard = self.protection.guard(LeadId(lead));
            guard.map_or(Resistance::ZERO, |guard| guard.resistance)
        };
        Wiring {
            job: &self.job,
            route: &self.route,
            catalog: &self.catalog,
            cables: leads.iter().map(|lead| cable(&lead.cable)).collect(),
            ampacities: leads.iter().map(|lead| lead.ampacity).collect(),
            guards: (0..leads.len()).map(guard).collect(),
            frames: Frames::of(&self.job, &self.catalog),
        }
    }

    /// Runs this stage.
    pub fn fit(&self) -> Fittings {
        fit(
            &self.job,
            &self.route,
            &self.sizing,
            &self.protection,
            &self.operation,
            &self.catalog,
        )
    }

    /// Gives a lead another cable, whatever sizing says.
    pub fn recable(&mut self, lead: &str, cable: &str) {
        let id = self.lead(lead);
        let part = self
            .catalog
            .cables
            .iter()
            .find(|row| *row.id == cable)
            .unwrap();
        let sized = &mut self.sizing.leads[id.0];
        sized.cable = cable.to_owned();
        sized.size = part.size;
        sized.area_mm2 = part.size.nominal_area().mm2();
        sized.outer_diameter = part.outer_diameter;
    }

    /// The lead with a name.
    pub fn lead(&self, name: &str) -> LeadId {
        let mut leads = self.job.leads();
        leads.find(|(_, lead)| lead.name == name).unwrap().0
    }
}

impl Fittings {
    /// Checks of a rule whose subject holds a text.
    pub fn about(&self, rule: CheckRule, subject: &str) -> Vec<&Check> {
        let checks = self.checks.iter();
        let found: Vec<&Check> = checks
            .filter(|check| check.rule == rule && check.subject.contains(subject))
            .collect();
        assert!(!found.is_empty(), "no {rule} check about {subject}");
        found
    }

    /// The worst verdict of those checks: fail, then open, then pass.
    pub fn verdict(&self, rule: CheckRule, subject: &str) -> Verdict {
        let checks = self.about(rule, subject);
        let has = |verdict| checks.iter().any(|check| check.verdict == verdict);
        match (has(Verdict::Fail), has(Verdict::Open)) {
            (true, _) => Verdict::Fail,
            (_, true) => Verdict::Open,
            _ => Verdict::Pass,
        }
    }

    /// The end at a terminal whose name holds a text.
    pub fn end(&self, terminal: &str) -> &End {
        let mut ends = self.ends.iter();
        ends.find(|end| end.terminal.contains(terminal)).unwrap()
    }
}
