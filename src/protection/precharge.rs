//! Loads with large capacitors: what the inrush does to the devices in its way.

use super::Guard;
use crate::catalog::{Basis, Cited, Protective, RuleSet};
use crate::check::{Check, CheckRule};
use crate::circuit::{ChargingLoop, Wiring, charging_loop};
use crate::job::Load;

/// Time constants after which a capacitor counts as charged: 1 - e^-5, more than 99 %.
const TIME_CONSTANTS: f64 = 5.0;

/// Every verdict on loads with a capacitance.
pub fn judge(wiring: &Wiring<'_>, devices: &[Protective<'_>], guards: &[Guard]) -> Vec<Check> {
    let loads = wiring.job.loads.iter();
    loads
        .flat_map(|load| one_load(wiring, devices, guards, load))
        .collect()
}

/// What flows into the capacitors of a load.
struct Inrush {
    farads: f64,
    volts: f64,
    /// With the pre-charge resistor, where there is one.
    ohm: f64,
    /// What a pre-charge resistor in a cure lets through at first.
    gentle_a: f64,
}

impl Inrush {
    fn of(load: &Load, farads: f64, round: &ChargingLoop, rules: &RuleSet) -> Self {
        let resistor = load.given.precharge.map_or(0.0, |resistor| resistor.ohm());
        Self {
            farads,
            volts: round.volts,
            ohm: round.ohm + resistor,
            gentle_a: rules.precharge_current.value.a(),
        }
    }

    fn peak_a(&self) -> f64 {
        self.volts / self.ohm
    }

    /// Integral of the squared current of the charging curve: V² C / 2 R.
    fn heat_a2s(&self) -> f64 {
        self.volts.powi(2) * self.farads / (2.0 * self.ohm)
    }

    fn seconds(&self) -> f64 {
        TIME_CONSTANTS * self.ohm * self.farads
    }

    /// What would make it harmless.
    fn cure(&self) -> String {
        let ohm = self.volts / self.gentle_a;
        format!(
            "pre-charge through {ohm:.1} ohm for {:.1} s (5 RC); the resistor takes {:.0} J",
            TIME_CONSTANTS * ohm * self.farads,
            self.volts.powi(2) * self.farads / 2.0
        )
    }
}

fn physics<T>(value: T, basis: Basis, citation: &str) -> Cited<T> {
    Cited {
        value,
        citation: citation.to_owned(),
        basis,
    }
}

fn one_load(
    wiring: &Wiring<'_>,
    devices: &[Protective<'_>],
    guards: &[Guard],
    load: &Load,
) -> Vec<Check> {
    let Some(farads) = load.given.capacitance.map(|figure| figure.f()) else {
        return Vec::new();
    };
    let name = load.name();
    let Some(round) = charging_loop(wiring, load) else {
        let source = physics((), Basis::CommonPractice, "common practice");
        let check = Check::holds(CheckRule::Precharge, name, true, &source);
        let note = "no battery feeds it straight: the limit of what feeds it limits the inrush";
        return vec![check.with_note(note)];
    };
    let inrush = Inrush::of(load, farads, &round, &wiring.job.rules);
    let mut checks = vec![time(load, &inrush, &wiring.job.rules)];
    for guard in guards
        .iter()
        .filter(|guard| round.leads.contains(&guard.lead))
    {
        let mut all = devices.iter();
        if let Some(device) = all.find(|device| device.part == guard.part) {
            checks.push(fuse_holds(wiring, load, &inrush, guard, device));
        }
    }
    let contacts = round.devices.iter();
    checks.extend(contacts.filter_map(|device| contacts_hold(wiring, load, &inrush, *device)));
    checks
}

/// How long the pre-charge takes; without one, what flows.
fn time(load: &Load, inrush: &Inrush, rules: &RuleSet) -> Check {
    let rule = &rules.precharge_time;
    let limit = physics(rule.value.s(), rule.basis, &rule.citation);
    let note = format!(
        "{:.0} A at first, charged within {:.2} s (5 RC)",
        inrush.peak_a(),
        inrush.seconds()
    );
    let value = inrush.seconds();
    let check = Check::at_most(CheckRule::Precharge, load.name(), value, &limit, "s");
    let cure = match check.verdict {
        crate::check::Verdict::Fail => "; take a smaller resistor",
        _ => "",
    };
    check.with_note(note + cure)
}

/// Melting energy: the inrush must stay under what the device certainly holds at its shortest
/// published time.
fn fuse_holds(
    wiring: &Wiring<'_>,
    load: &Load,
    inrush: &Inrush,
    guard: &Guard,
    device: &Protective<'_>,
) -> Check {
    // Beyond the last published point the time falls with the square of the current.
    let far = device.rating * 1e3;
    let held = far.a().powi(2) * device.curve.holds_for(device.of_rating(far)).s();
    let limit = physics(held, device.curve.basis, &device.curve.citation);
    let value = inrush.heat_a2s();
    let lead = &wiring.job.lead(guard.lead).name;
    let mut note = format!(
        "its capacitors draw {:.0} A at first through the {} of {lead}, {value:.0} A²s in all; it \
         holds {held:.0} A²s",
        inrush.peak_a(),
        guard.kind
    );
    if value > held {
        note += &format!("; {}", inrush.cure());
    }
    let check = Check::at_most(CheckRule::Precharge, load.name(), value, &limit, "A2s");
    check.with_note(note)
}

/// Contacts that close on more than their short-time rating weld. `None` for a connector.
fn contacts_hold(
    wiring: &Wiring<'_>,
    load: &Load,
    inrush: &Inrush,
    position: usize,
) -> Option<Check> {
    let given = &wiring.job.devices[position].given;
    let id = given.part.value.as_str();
    let switches = wiring.catalog.switches.iter();
    let switches = switches.map(|row| (row.id.as_str(), row.intermittent, row.source.as_str()));
    let contactors = wiring.catalog.contactors.iter();
    let contactors = contactors.map(|row| (row.id.as_str(), row.intermittent, row.source.as_str()));
    let (_, most, source) = switches.chain(contactors).find(|(part, ..)| *part == id)?;
    let limit = physics(most.a(), Basis::User, source);
    let value = inrush.peak_a();
    let mut note = format!(
        "its capacitors draw {value:.0} A at first through `{}`, which stands {:.0} A for moments",
        given.name.value,
        most.a()
    );
    if value > most.a() {
        note += &format!("; its contacts may weld: {}", inrush.cure());
    }
    let check = Check::at_most(CheckRule::Precharge, load.name(), value, &limit, "A");
    Some(check.with_note(note))
}
