//! Switches, contactors and connectors: whether they carry what passes.

use super::currents::Passing;
use super::ledger::Ledger;
use super::site::Site;
use super::words::{source_of, told};
use crate::catalog::{Catalog, Cited, Connector, Contactor, Part, Switch};
use crate::check::{Check, CheckRule};
use crate::job::Device;
use crate::quantity::{Current, Voltage};

/// The part of a device.
#[derive(Debug, Clone, Copy)]
pub(super) enum DevicePart<'a> {
    /// A master switch or isolator.
    Switch(&'a Switch),
    /// A contactor or relay.
    Contactor(&'a Contactor),
    /// A plug and socket.
    Connector(&'a Connector),
}

impl<'a> DevicePart<'a> {
    /// The part with an id.
    pub fn find(catalog: &'a Catalog, id: &str) -> Option<Self> {
        let switches = catalog.switches.iter();
        let contactors = catalog.contactors.iter();
        let connectors = catalog.connectors.iter();
        switches
            .filter(|row| *row.id == id)
            .map(Self::Switch)
            .chain(contactors.filter(|row| *row.id == id).map(Self::Contactor))
            .chain(connectors.filter(|row| *row.id == id).map(Self::Connector))
            .next()
    }

    fn part(self) -> &'a dyn Part {
        match self {
            Self::Switch(row) => row,
            Self::Contactor(row) => row,
            Self::Connector(row) => row,
        }
    }

    fn rating(self) -> Current {
        match self {
            Self::Switch(row) => row.rating,
            Self::Contactor(row) => row.rating,
            Self::Connector(row) => row.rating,
        }
    }

    fn intermittent(self) -> Option<Current> {
        match self {
            Self::Switch(row) => Some(row.intermittent),
            Self::Contactor(row) => Some(row.intermittent),
            Self::Connector(_) => None,
        }
    }
}

/// Notes and judges every device.
pub(super) fn fit(site: Site<'_>, ledger: &mut Ledger) {
    for device in &site.job.devices {
        let name = &device.given.name.value;
        let Some(part) = DevicePart::find(site.catalog, &device.given.part.value) else {
            let why = format!("the catalog does not hold `{}`", device.given.part.value);
            let check = Check::open(CheckRule::DeviceRating, name, &why);
            ledger.checks.push(check);
            continue;
        };
        ledger.need(part.part(), 1, format!("`{name}`"));
        let (input, output) = (
            site.passing_terminal(device.input),
            site.passing_terminal(device.output),
        );
        let passing = Passing {
            continuous: input.continuous.max(output.continuous),
            short: input.short.max(output.short),
        };
        check_currents(name, part, passing, ledger);
        check_voltage(site, name, part, ledger);
        check_vapour(site, device, part, ledger);
    }
}

fn check_currents(name: &str, part: DevicePart<'_>, passing: Passing, ledger: &mut Ledger) {
    let rule = CheckRule::DeviceRating;
    let source = source_of(part.part());
    let limit = source.map(|()| part.rating().a());
    let at_most = |current: Current, limit: &Cited<f64>, about: &str| {
        let check = Check::at_most(rule, name, current.a(), limit, "A");
        told(check, about, "take a larger one")
    };
    let continuous = at_most(passing.continuous, &limit, "continuous current");
    let short = match part.intermittent() {
        Some(most) => at_most(
            passing.short,
            &source.map(|()| most.a()),
            "short-time current, as in cranking or winching",
        ),
        None if passing.short <= part.rating() => at_most(
            passing.short,
            &limit,
            "short-time current, which the continuous rating covers",
        ),
        None => Check::open(
            rule,
            name,
            "more than its continuous rating passes for a short time, and the catalog gives no \
             short-time rating; ask the maker",
        ),
    };
    ledger.checks.extend([continuous, short]);
}

fn check_voltage(site: Site<'_>, name: &str, part: DevicePart<'_>, ledger: &mut Ledger) {
    let system = site.job.system_voltage.v();
    let source = source_of(part.part());
    let at_most = |voltage: Voltage| {
        let limit = source.map(|()| voltage.v());
        let check = Check::at_most(CheckRule::DeviceRating, name, system, &limit, "V");
        told(check, "system voltage", "take one of a higher voltage")
    };
    let check = match part {
        DevicePart::Switch(row) => at_most(row.voltage),
        DevicePart::Connector(row) => at_most(row.voltage),
        DevicePart::Contactor(row) => {
            // A coil works from about nine tenths of its voltage. Common practice.
            let same = (row.voltage.v() / system - 1.0).abs() < 0.1;
            let note = format!(
                "its coil is for {} V, the system has {system} V",
                row.voltage.v()
            );
            let check = Check::holds(CheckRule::DeviceRating, name, same, &source);
            told(
                check,
                &note,
                "take one whose coil is for the system voltage",
            )
        }
    };
    ledger.checks.push(check);
}

fn check_vapour(site: Site<'_>, device: &Device, part: DevicePart<'_>, ledger: &mut Ledger) {
    let name = &device.given.name.value;
    let space = site.job.space(site.job.place(device.place).space);
    if !space.vapour {
        return;
    }
    let rule = CheckRule::DeviceRating;
    let check = match part {
        DevicePart::Switch(row) => {
            let check = Check::holds(rule, name, row.ignition_protected, &source_of(row));
            let about = format!(
                "vapour may gather in {}: the device must be ignition protected",
                space.name
            );
            told(check, &about, "take one that is, or put it elsewhere")
        }
        DevicePart::Contactor(_) | DevicePart::Connector(_) => {
            let why = format!(
                "vapour may gather in {}, and the catalog does not say whether the device is \
                 ignition protected; ask the maker, or put it elsewhere",
                space.name
            );
            Check::open(rule, name, &why)
        }
    };
    ledger.checks.push(check);
}
