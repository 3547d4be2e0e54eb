//! Whole jobs through all stages up to this one.
#![allow(clippy::unwrap_used, clippy::panic)]

mod library;
mod order;
mod parts;

use super::*;
use crate::catalog::{Catalog, embedded, load as load_catalog};
use crate::circuit::{Frames, Wiring, operate};
use crate::diagnostic::{Sources, render};
use crate::fittings::{Fittings, fit};
use crate::job::{Job, LeadId, load as load_job};
use crate::quantity::Resistance;

/// Every stage up to this one.
struct Bench {
    job: Job,
    route: Route,
    sizing: Sizing,
    protection: Protection,
    fittings: Fittings,
    catalog: Catalog,
    library: StepLibrary,
}

impl Bench {
    fn new(job: &str) -> Self {
        let mut sources = Sources::default();
        let base = embedded(&mut sources);
        let catalog = load_catalog(&[base], &sources).unwrap();
        let library = StepLibrary::embedded(&mut sources).unwrap();
        let source = sources.add("job.toml", job);
        let job = load_job(source, &sources, &catalog);
        let job = job.unwrap_or_else(|found| panic!("{}", render(&found, &sources, false)));
        let route = crate::route::trace(&job, &catalog);
        let sizing = crate::sizing::choose(&job, &route, &catalog);
        let none = Protection {
            coverage: crate::protection::Coverage::default(),
            guards: Vec::new(),
            checks: Vec::new(),
        };
        let protection =
            crate::protection::choose(&wiring(&job, &route, &sizing, &none, &catalog), &sizing);
        let operation = operate(&wiring(&job, &route, &sizing, &protection, &catalog));
        let fittings = fit(&job, &route, &sizing, &protection, &operation, &catalog);
        Self {
            job,
            route,
            sizing,
            protection,
            fittings,
            catalog,
            library,
        }
    }

    fn order(&self) -> Method {
        order(
            &self.job,
            &self.route,
            &self.sizing,
            &self.protection,
            &self.fittings,
            &self.catalog,
            &self.library,
        )
    }
}

fn wiring<'a>(
    job: &'a Job,
    route: &'a Route,
    sizing: &Sizing,
    protection: &Protection,
    catalog: &'a Catalog,
) -> Wiring<'a> {
    let leads = &sizing.leads;
    let guard = |lead: usize| {
        let guard = protection.guard(LeadId(lead));
        guard.map_or(Resistance::ZERO, |guard| guard.resistance)
    };
    Wiring {
        job,
        route,
        catalog,
        cables: leads
            .iter()
            .map(|lead| catalog.cable(&lead.cable).unwrap())
            .collect(),
        ampacities: leads.iter().map(|lead| lead.ampacity).collect(),
        guards: (0..leads.len()).map(guard).collect(),
        frames: Frames::of(job, catalog),
    }
}

/// A battery in the bed of a pickup: a feed-through, a grommet, hazards, a box, a switch.
const PICKUP: &str = r#"
title = "pickup"
system_voltage = "12 V"
setting = "road vehicle"
climate = { cold = "-10 C", hot = "35 C" }
space = [
  { name = "bed", temperature = "40 C" },
  { name = "front", temperature = "70 C", engine_space = true, wet = true },
  { name = "cab", temperature = "45 C", occupied = true },
]
place = [
  { name = "tray", space = "bed" },
  { name = "sill", space = "bed" },
  { name = "block", space = "front" },
  { name = "dash | \"left\"", space = "cab" },
]
panel = [
  { name = "bulkhead", thickness = "1 mm", material = "steel" },
  { name = "firewall", thickness = "1 mm", material = "steel", passage = "grommet" },
]
leg = [
  { from = "tray", to = "sill", length = "2 m", space = "bed", access = "awkward", bends = 2, bend_radius = "150 mm", hazard = [{ kind = "fuel line", gap = "200 mm" }, { kind = "chafe" }] },
  { from = "sill", to = "block", length = "1.5 m", space = "front", access = "hard", panel = "bulkhead", panel_at = "600 mm" },
  { from = "block", to = "dash | \"left\"", length = "900 mm", space = "front", panel = "firewall" },
]
battery = [{ name = "main", place = "tray", chemistry = "flooded", voltage = "12 V", capacity = "70 Ah", cold_crank = "700 A", length = "242 mm", width = "175 mm", height = "190 mm", mass = "18 kg", enclosure = "auto", vent_hose = "1.2 m" }]
alternator = [{ name = "alternator", place = "block", regulated = "14.2 V", limit = "90 A", stud = "M8", case = "engine" }]
load = [
  { name = "starter", place = "block", kind = "starter", current = "180 A", locked = "600 A", longest = "10 s", stud = "M8", case = "engine" },
  { name = "radio", place = "dash | \"left\"", kind = "constant power", power = "60 W", stud = "M5", sensitive = true, least = "9 V" },
]
bus = [{ name = "front bus", place = "block", polarity = "positive" }, { name = "dash bus", place = "dash | \"left\"", polarity = "negative" }]
chassis = [
  { name = "bed earth", place = "tray", stud = "M10" },
  { name = "engine", place = "block", stud = "M10" },
]
bond = [{ from = "bed earth", to = "engine", resistance = "1 mohm" }]
lead = [
  { name = "main feed", from = "main +", to = "front bus" },
  { name = "starter feed", from = "front bus", to = "starter +", moves = "to" },
  { name = "charge", from = "front bus", to = "alternator +", moves = "to" },
  { name = "radio feed", from = "front bus", to = "radio +" },
  { name = "radio return", from = "radio -", to = "dash bus" },
  { name = "dash earth", from = "dash bus", to = "engine" },
  { name = "battery earth", from = "main -", to = "bed earth" },
]
"#;

/// Two lithium batteries in series on a boat, one load, no chassis, studs throughout.
const BOAT: &str = r#"
title = "launch <`é`>"
units = "imperial"
system_voltage = "24 V"
setting = "small craft"
climate = { cold = "0 C", hot = "35 C" }
space = [{ name = "hull", temperature = "35 C" }]
place = [{ name = "bilge", space = "hull" }, { name = "bow", space = "hull" }]
leg = [{ from = "bilge", to = "bow", length = "12 ft", space = "hull" }]
battery = [
  { name = "A", place = "bilge", chemistry = "lithium iron phosphate", voltage = "12 V", capacity = "100 Ah", internal_resistance = "3 mohm", post = "stud", stud = "M8" },
  { name = "B", place = "bilge", chemistry = "lithium iron phosphate", voltage = "12 V", capacity = "100 Ah", internal_resistance = "3 mohm", post = "stud", stud = "M8" },
]
load = [{ name = "thruster", place = "bow", kind = "constant current", current = "80 A", stud = "M8", duty = "intermittent", longest = "3 min" }]
lead = [
  { name = "minus", from = "A -", to = "thruster -" },
  { name = "link", from = "A +", to = "B -" },
  { name = "plus", from = "B +", to = "thruster +" },
]
"#;

/// One lead and nothing that moves.
const ONE_LEAD: &str = r#"
title = "one"
system_voltage = "12 V"
setting = "competition"
climate = { cold = "0 C", hot = "35 C" }
space = [{ name = "hull", temperature = "35 C" }]
place = [{ name = "here", space = "hull" }]
battery = [{ name = "A", place = "here", chemistry = "gel", voltage = "12 V", capacity = "40 Ah", internal_resistance = "8 mohm", post = "stud", stud = "M6" }]
chassis = [{ name = "frame", place = "here", stud = "M8" }]
lead = [{ name = "earth", from = "A -", to = "frame" }]
"#;
