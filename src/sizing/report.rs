//! The sizes chosen, with the reason for each and the verdicts.

use super::carry::Burden;
use super::choose::{Chosen, Proof};
use super::outfit::Stock;
use super::worth::{Thinner, Worths};
use super::{SizedLead, Sizing};
use crate::catalog::{Basis, Cited, ConductorMaterial};
use crate::check::{Check, CheckRule};
use crate::job::{Job, LeadId};
use crate::quantity::Resistance;

/// What to say where the catalog holds no cable at all.
pub fn nothing(job: &Job) -> Sizing {
    let leads = job.leads.iter();
    let lacking = |lead: &crate::job::Lead| {
        Check::open(
            CheckRule::Conductor,
            &lead.name,
            "the catalog holds no cable for it",
        )
    };
    Sizing {
        leads: Vec::new(),
        proof: Proof {
            price: 0.0,
            bound: 0.0,
            proved: false,
            keeps_limits: false,
        },
        checks: leads.map(lacking).collect(),
    }
}

/// Describes a finished choice.
pub fn report(stock: &Stock<'_>, chosen: &Chosen<'_>) -> Sizing {
    let mut sizing = Sizing {
        leads: Vec::new(),
        proof: chosen.proof,
        checks: Vec::new(),
    };
    let worths = Worths::of(stock, chosen);
    for lead in 0..chosen.outfits.len() {
        sizing.checks.push(ampacity_check(stock, chosen, lead));
        sizing.checks.push(conductor_check(stock, chosen, lead));
        if stock.job.leads[lead].family.is_none() {
            sizing.checks.extend(insulation_check(stock, chosen, lead));
        }
        sizing.leads.push(sized_lead(stock, chosen, &worths, lead));
    }
    sizing
}

fn sized_lead(
    stock: &Stock<'_>,
    chosen: &Chosen<'_>,
    worths: &Worths<'_, '_>,
    lead: usize,
) -> SizedLead {
    let outfit = &chosen.outfits[lead];
    let duty = &chosen.exact.duties[lead];
    let candidate = stock.candidate(lead, outfit);
    let cable = candidate.cable;
    let (closest, left) = match stock.burden(lead, outfit, duty) {
        Burden::Carried { what, left } => (what, left),
        Burden::Overloaded { what } => (format!("too thin: {what}"), 0.0),
    };
    let fixed = stock.job.leads[lead].size.is_some();
    let thinner = if fixed {
        Thinner::None
    } else {
        worths.thinner(lead)
    };
    let (binding, thinner, left) = match thinner {
        _ if fixed => {
            let binding = format!("the job fixes the size; closest to its limit: {closest}");
            (binding, None, left)
        }
        Thinner::Breaks { what, left: volts } => {
            let left = volts.map_or(left, |volts| volts.min(left));
            (format!("one size thinner fails: {what}"), Some(what), left)
        }
        Thinner::NoCheaper => (
            format!("the cheapest cable that does; {closest}"),
            None,
            left,
        ),
        Thinner::None => (
            format!("the thinnest cable that suits the way and the studs; {closest}"),
            None,
            left,
        ),
    };
    let device = stock.device(outfit);
    SizedLead {
        lead: LeadId(lead),
        cable: cable.id.value.clone(),
        size: cable.size,
        area_mm2: cable.size.nominal_area().mm2(),
        outer_diameter: cable.outer_diameter,
        device: device.map(|device| device.part.to_owned()),
        device_allowance: device.map_or(Resistance::ZERO, |device| device.resistance),
        continuous: duty.continuous,
        planned: duty.planned,
        ampacity: candidate.allowed.current,
        ampacity_terms: candidate.allowed.terms.clone(),
        binding,
        margin_percent: left * 100.0,
        thinner,
        thicker: worths.thicker(lead),
        split: worths.split(lead),
        price: outfit.price,
    }
}

fn ampacity_check(stock: &Stock<'_>, chosen: &Chosen<'_>, lead: usize) -> Check {
    let (outfit, duty) = (&chosen.outfits[lead], &chosen.exact.duties[lead]);
    let candidate = stock.candidate(lead, outfit);
    let table = stock
        .catalog
        .ampacity_table(&stock.job.rules.ampacity_table);
    let limit = Cited {
        value: candidate.allowed.current.a(),
        citation: table.map_or(String::new(), |table| table.citation.clone()),
        basis: table.map_or(Basis::Memory, |table| table.basis),
    };
    let name = &stock.job.leads[lead].name;
    let amps = duty.continuous.a();
    let check = Check::at_most(CheckRule::Ampacity, name, amps, &limit, "A");
    let check = check.with_nominal(duty.planned.a(), None);
    match stock.burden(lead, outfit, duty) {
        Burden::Carried { what, .. } => check.with_note(what),
        Burden::Overloaded { what } => {
            let mut check = check;
            check.verdict = crate::check::Verdict::Fail;
            check.with_note(format!("{what}; take a thicker cable or a cooler way"))
        }
    }
}

/// The heat of the way against the insulation of the cable chosen. A way too hot for every cable
/// has failed with the route.
fn insulation_check(stock: &Stock<'_>, chosen: &Chosen<'_>, lead: usize) -> Option<Check> {
    let cable = stock.candidate(lead, &chosen.outfits[lead]).cable;
    let way = &stock.route.leads[lead];
    let limit = Cited {
        value: cable.rating.c(),
        citation: cable.source.clone(),
        basis: Basis::CommonPractice,
    };
    let name = &stock.job.leads[lead].name;
    let note = format!(
        "the hottest air on the way is {:.0} °C, the cable is rated {:.0} °C",
        way.ambient.c(),
        cable.rating.c()
    );
    let check = Check::at_most(CheckRule::Insulation, name, way.ambient.c(), &limit, "°C");
    (way.ambient < cable.rating).then(|| check.with_note(note))
}

/// Size and metal against the rules of the setting.
fn conductor_check(stock: &Stock<'_>, chosen: &Chosen<'_>, lead: usize) -> Check {
    let job = stock.job;
    let cable = stock.candidate(lead, &chosen.outfits[lead]).cable;
    let lead = &job.leads[lead];
    let clad = cable.material == ConductorMaterial::CladAluminium;
    if clad && !job.rules.clad_aluminium.value {
        let source = job.rules.clad_aluminium.map(|_| ());
        return Check::holds(CheckRule::Conductor, &lead.name, false, &source).with_note(
            "copper-clad aluminium is not allowed here; take copper, which is thinner for the same current",
        );
    }
    if let Some(size) = lead.size.filter(|size| *size != cable.size) {
        let source = Cited {
            value: (),
            citation: "the catalog".to_owned(),
            basis: Basis::User,
        };
        let note = format!("no cable of {size} in the families that the lead may come from");
        return Check::holds(CheckRule::Conductor, &lead.name, false, &source).with_note(note);
    }
    let least = &job.rules.least_size;
    // One part in a hundred: 18 AWG and 0.75 mm2 count as the same smallest size.
    let limit = least.map(|size| size.nominal_area().mm2() * 0.99);
    let area = cable.size.nominal_area().mm2();
    Check::at_least(CheckRule::Conductor, &lead.name, area, &limit, "mm²").with_note(format!(
        "{}, {}; at least {} is asked",
        cable.size, cable.material, least.value
    ))
}
