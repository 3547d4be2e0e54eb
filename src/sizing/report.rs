//! The sizes chosen, with the reason for each and the verdicts.

use super::carry::Burden;
use super::choose::Choice;
use super::{SizedLead, Sizing};
use crate::catalog::{Basis, Cited, ConductorMaterial};
use crate::check::{Check, CheckRule};
use crate::circuit::{LeadDuty, duties};
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
        checks: leads.map(lacking).collect(),
    }
}

/// Describes a finished choice.
pub fn report(choice: &mut Choice<'_>) -> Sizing {
    let wiring = choice.wiring();
    let duties = duties(&wiring);
    let lacking = choice.all_lacking();
    let mut sizing = Sizing {
        leads: Vec::new(),
        checks: Vec::new(),
    };
    for (lead, duty) in duties.iter().enumerate() {
        let id = LeadId(lead);
        let sized = sized_lead(choice, id, &duties, lacking);
        sizing.checks.push(ampacity_check(choice, id, duty));
        sizing.checks.push(conductor_check(choice, id));
        if choice.job.lead(id).family.is_none() {
            sizing.checks.extend(insulation_check(choice, id));
        }
        sizing.leads.push(sized);
    }
    sizing
}

fn sized_lead(
    choice: &mut Choice<'_>,
    id: LeadId,
    duties: &[LeadDuty],
    lacking: usize,
) -> SizedLead {
    let duty = &duties[id.0];
    let (burden, thinner) = (
        choice.burden(id, choice.at[id.0], duty),
        (choice.at[id.0] > 0).then(|| choice.breaks_when_lowered(id.0, duties, lacking)),
    );
    let voltage_left = thinner
        .as_ref()
        .and_then(|broken| choice.left_of(broken.as_ref()?.check.as_ref()?));
    let candidate = choice.chosen(id);
    let cable = candidate.cable;
    let (closest, left) = match burden {
        Burden::Carried { what, left } => (what, left),
        Burden::Overloaded { what } => (format!("too thin: {what}"), 0.0),
    };
    let fixed = choice.job.lead(id).size.is_some();
    let (binding, thinner) = match thinner {
        _ if fixed => (
            format!("the job fixes the size; closest to its limit: {closest}"),
            None,
        ),
        Some(Some(broken)) => {
            let binding = format!("one size thinner fails: {}", broken.what);
            (binding, Some(broken.what))
        }
        Some(None) => (format!("the cheapest cable that does; {closest}"), None),
        None => (
            format!("the thinnest cable that suits the way and the studs; {closest}"),
            None,
        ),
    };
    SizedLead {
        lead: id,
        cable: cable.id.value.clone(),
        size: cable.size,
        area_mm2: cable.size.nominal_area().mm2(),
        outer_diameter: cable.outer_diameter,
        device: choice.device(id).map(|device| device.part.clone()),
        device_allowance: choice
            .device(id)
            .map_or(Resistance::ZERO, |device| device.resistance),
        continuous: duty.continuous,
        ampacity: candidate.allowed.current,
        ampacity_terms: candidate.allowed.terms.clone(),
        binding,
        margin_percent: voltage_left.map_or(left, |volts| volts.min(left)) * 100.0,
        thinner,
    }
}

fn ampacity_check(choice: &Choice<'_>, id: LeadId, duty: &LeadDuty) -> Check {
    let candidate = choice.chosen(id);
    let table = choice
        .catalog
        .ampacity_table(&choice.job.rules.ampacity_table);
    let limit = Cited {
        value: candidate.allowed.current.a(),
        citation: table.map_or(String::new(), |table| table.citation.clone()),
        basis: table.map_or(Basis::Memory, |table| table.basis),
    };
    let name = &choice.job.lead(id).name;
    let amps = duty.continuous.a();
    match choice.burden(id, choice.at[id.0], duty) {
        Burden::Carried { what, .. } => {
            Check::at_most(CheckRule::Ampacity, name, amps, &limit, "A").with_note(what)
        }
        Burden::Overloaded { what } => {
            let mut check = Check::at_most(CheckRule::Ampacity, name, amps, &limit, "A");
            check.verdict = crate::check::Verdict::Fail;
            check.with_note(format!("{what}; take a thicker cable or a cooler way"))
        }
    }
}

/// The heat of the way against the insulation of the cable chosen. A way too hot for every cable
/// has failed with the route.
fn insulation_check(choice: &Choice<'_>, id: LeadId) -> Option<Check> {
    let (cable, way) = (choice.chosen(id).cable, &choice.route.leads[id.0]);
    let limit = Cited {
        value: cable.rating.c(),
        citation: cable.source.clone(),
        basis: Basis::CommonPractice,
    };
    let name = &choice.job.lead(id).name;
    let note = format!(
        "the hottest air on the way is {:.0} °C, the cable is rated {:.0} °C",
        way.ambient.c(),
        cable.rating.c()
    );
    let check = Check::at_most(CheckRule::Insulation, name, way.ambient.c(), &limit, "°C");
    (way.ambient < cable.rating).then(|| check.with_note(note))
}

/// Size and metal against the rules of the setting.
fn conductor_check(choice: &Choice<'_>, id: LeadId) -> Check {
    let job = choice.job;
    let lead = job.lead(id);
    let cable = choice.chosen(id).cable;
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
