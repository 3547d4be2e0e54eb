//! Leads, their sections and their ends.

use serde::Serialize;

use super::build::{Context, metres};
use super::thicker;
use crate::check::CheckRule;
use crate::drawings::strip_map_name;
use crate::fittings::End;
use crate::job::{LeadId, PlaceId};
use crate::route::{LeadRoute, RunnerUp, Section};
use crate::sizing::{SizedLead, Thicker};

/// One lead.
#[derive(Debug, Clone, Serialize)]
pub struct LeadView {
    /// Its name.
    pub name: String,
    /// The terminal it starts at.
    pub from: String,
    /// The terminal it ends at.
    pub to: String,
    /// Places on its way.
    pub path: Vec<String>,
    /// Length along the way.
    pub routed_length_m: f64,
    /// The same in the job's units.
    pub routed_shown: String,
    /// Sum of what is cut.
    pub cut_length_m: f64,
    /// The same in the job's units.
    pub cut_shown: String,
    /// Length weighted by exposure and access.
    pub cost_m: f64,
    /// Id of the cable.
    pub cable: String,
    /// The cable in words.
    pub cable_description: String,
    /// Its size.
    pub size: String,
    /// Its nominal area.
    pub area_mm2: f64,
    /// Insulation colour.
    pub colour: String,
    /// Positive or negative.
    pub polarity: String,
    /// Largest current for hours.
    pub continuous_a: f64,
    /// The same as planned; what flows for hours at the worst corner is above it.
    pub planned_a: f64,
    /// Current allowed.
    pub ampacity_a: f64,
    /// How that comes about.
    pub ampacity_terms: Vec<String>,
    /// Part of the current allowed that is left, in percent.
    pub spare_percent: f64,
    /// How warm it gets, by the model of its heat.
    pub heat: Option<String>,
    /// What decided the size.
    pub binding: String,
    /// What is left of the limit that is closest.
    pub margin_percent: f64,
    /// What one size thinner breaks.
    pub thinner: Option<String>,
    /// What one size thicker costs and brings.
    pub thicker: Option<ThickerView>,
    /// The same in a sentence.
    pub thicker_told: String,
    /// What clamps of its own would save, in a sentence, where they save anything.
    pub split_told: Option<String>,
    /// Rough price with its ends and device.
    pub price: f64,
    /// Currency of the rough prices.
    pub currency: String,
    /// Hottest air on the way.
    pub ambient_c: f64,
    /// The same in the job's units.
    pub ambient_shown: String,
    /// Current-carrying conductors together.
    pub bundled_with: usize,
    /// Bends on the way.
    pub bends: u32,
    /// Cables it is made of.
    pub sections: Vec<SectionView>,
    /// Ends of those cables, two for each.
    pub ends: Vec<EndView>,
    /// Panels it passes.
    pub crossings: Vec<CrossingView>,
    /// The best other way.
    pub runner_up: Option<RunnerUpView>,
    /// Name of the drawing of its way; nothing where both its ends are at one place.
    pub strip_map: Option<String>,
}

/// One size thicker.
#[derive(Debug, Clone, Serialize)]
pub struct ThickerView {
    /// The size.
    pub size: String,
    /// What it costs more, roughly.
    pub dearer: f64,
    /// What it brings.
    pub brings: String,
}

/// One made-up cable.
#[derive(Debug, Clone, Serialize)]
pub struct SectionView {
    /// Its number in the lead, from one.
    pub number: usize,
    /// As its labels name it, such as `charge lead 2/3`.
    pub name: String,
    /// Its first end.
    pub from: String,
    /// Its last end.
    pub to: String,
    /// Where it starts along the lead.
    pub start_m: f64,
    /// Length along the way.
    pub routed_length_m: f64,
    /// Length to cut.
    pub cut_length_m: f64,
    /// The same in the job's units.
    pub cut_shown: String,
    /// What the cut length is made of.
    pub terms: Vec<TermView>,
}

/// One part of a cut length.
#[derive(Debug, Clone, Serialize)]
pub struct TermView {
    /// What it is for.
    pub reason: String,
    /// How much.
    pub length_m: f64,
    /// The same in the job's units.
    pub shown: String,
}

/// One end of a cable.
#[derive(Debug, Clone, Serialize)]
pub struct EndView {
    /// Number of the section, from one.
    pub section: usize,
    /// Which part of its lead the section is, such as `2/3`; nothing where it is the only one.
    pub part: Option<String>,
    /// What it is on.
    pub terminal: String,
    /// Where that is.
    pub place: String,
    /// Thread of the stud.
    pub stud: String,
    /// Id of the lug.
    pub lug: Option<String>,
    /// Code of the die.
    pub die: Option<String>,
    /// Number of crimps.
    pub crimps: u32,
    /// Id of the sleeve.
    pub sleeve: Option<String>,
    /// Id of the boot.
    pub boot: Option<String>,
    /// Insulation to strip.
    pub strip_mm: Option<f64>,
    /// The same in the job's units.
    pub strip_shown: Option<String>,
}

/// A panel on the way.
#[derive(Debug, Clone, Serialize)]
pub struct CrossingView {
    /// The panel.
    pub panel: String,
    /// Distance along the lead.
    pub at_m: f64,
    /// The same in the job's units.
    pub at_shown: String,
}

/// The best other way.
#[derive(Debug, Clone, Serialize)]
pub struct RunnerUpView {
    /// Places on it.
    pub path: Vec<String>,
    /// Its length.
    pub length_m: f64,
    /// The same in the job's units.
    pub length_shown: String,
    /// Its length weighted by exposure and access.
    pub cost_m: f64,
    /// Why it lost.
    pub reasons: Vec<String>,
}

/// Every lead.
pub fn views(context: Context<'_>) -> Vec<LeadView> {
    let job = context.job;
    let sized = context.plan.sizing.leads.iter();
    sized
        .zip(&context.plan.route.leads)
        .map(|(sized, way)| {
            let lead = job.lead(sized.lead);
            LeadView {
                name: lead.name.clone(),
                from: job.terminal(lead.from).name.clone(),
                to: job.terminal(lead.to).name.clone(),
                path: names(context, &way.way.places),
                routed_length_m: metres(way.routed()),
                routed_shown: context.shown(way.routed()),
                cut_length_m: metres(way.cut()),
                cut_shown: context.shown(way.cut()),
                cost_m: way.way.cost_m,
                cable: sized.cable.clone(),
                cable_description: context.described(&sized.cable),
                size: sized.size.to_string(),
                area_mm2: sized.area_mm2,
                colour: lead.insulation().to_string(),
                polarity: lead.polarity.to_string(),
                continuous_a: sized.continuous.a(),
                planned_a: sized.planned.a(),
                ampacity_a: sized.ampacity.a(),
                ampacity_terms: sized.ampacity_terms.clone(),
                spare_percent: spare_percent(sized),
                heat: heat(context, &lead.name),
                binding: sized.binding.clone(),
                margin_percent: sized.margin_percent,
                thinner: sized.thinner.clone(),
                thicker: sized.thicker.as_ref().map(thicker_view),
                thicker_told: thicker::told(context, sized.lead.0),
                split_told: sized
                    .split
                    .as_ref()
                    .map(|split| thicker::split_told(context, split)),
                price: sized.price,
                currency: job.currency.code().to_owned(),
                ambient_c: way.ambient.c(),
                ambient_shown: context.job.units.temperature(way.ambient),
                bundled_with: way.bundled_with,
                bends: way.bends,
                sections: sections(context, sized.lead, way),
                ends: ends(context, sized.lead, way),
                crossings: crossings(context, way),
                runner_up: way
                    .runner_up
                    .as_ref()
                    .map(|other| runner_up(context, other)),
                strip_map: strip_map_name(job, way),
            }
        })
        .collect()
}

fn spare_percent(sized: &SizedLead) -> f64 {
    let (amps, allowed) = (sized.continuous.a(), sized.ampacity.a());
    (allowed - amps) / allowed.max(1e-9) * 100.0
}

fn heat(context: Context<'_>, lead: &str) -> Option<String> {
    let mut checks = context.plan.checks.iter();
    let check = checks.find(|check| check.rule == CheckRule::Heat && check.subject == lead)?;
    Some(check.note.clone())
}

fn thicker_view(thicker: &Thicker) -> ThickerView {
    ThickerView {
        size: thicker.size.to_string(),
        dearer: thicker.dearer,
        brings: thicker.brings.clone(),
    }
}

fn names(context: Context<'_>, places: &[PlaceId]) -> Vec<String> {
    let places = places.iter();
    places
        .map(|place| context.job.place(*place).name.clone())
        .collect()
}

fn sections(context: Context<'_>, lead: LeadId, way: &LeadRoute) -> Vec<SectionView> {
    let numbered = way.sections.iter().enumerate();
    numbered
        .map(|(index, section): (usize, &Section)| SectionView {
            number: index + 1,
            name: way.section_name(&context.job.lead(lead).name, index),
            from: context.end_name(lead, index, section.from),
            to: context.end_name(lead, index, section.to),
            start_m: metres(section.start),
            routed_length_m: metres(section.routed),
            cut_length_m: metres(section.cut),
            cut_shown: context.shown_for_marking(section.cut),
            terms: section
                .terms
                .iter()
                .map(|term| TermView {
                    reason: term.reason.clone(),
                    length_m: metres(term.length),
                    shown: context.shown(term.length),
                })
                .collect(),
        })
        .collect()
}

fn ends(context: Context<'_>, lead: LeadId, way: &LeadRoute) -> Vec<EndView> {
    let ends = context.plan.fittings.ends.iter();
    ends.filter(|end| end.lead == lead)
        .map(|end: &End| EndView {
            section: end.section + 1,
            part: way.part_of(end.section),
            terminal: end.terminal.clone(),
            place: context.job.place(end.place).name.clone(),
            stud: end
                .stud
                .map_or_else(|| "-".to_owned(), |stud| stud.to_string()),
            lug: end.lug.clone(),
            die: end.die.clone(),
            crimps: end.crimps,
            sleeve: end.sleeve.clone(),
            boot: end.boot.clone(),
            strip_mm: end.strip.map(|strip| strip.mm()),
            strip_shown: end.strip.map(|strip| context.job.units.on_tape(strip)),
        })
        .collect()
}

fn crossings(context: Context<'_>, way: &LeadRoute) -> Vec<CrossingView> {
    let crossings = way.crossings.iter();
    crossings
        .map(|crossing| CrossingView {
            panel: context.job.panel(crossing.panel).name.clone(),
            at_m: metres(crossing.at),
            at_shown: context.shown(crossing.at),
        })
        .collect()
}

fn runner_up(context: Context<'_>, other: &RunnerUp) -> RunnerUpView {
    RunnerUpView {
        path: names(context, &other.way.places),
        length_m: metres(other.way.length),
        length_shown: context.shown(other.way.length),
        cost_m: other.way.cost_m,
        reasons: other.reasons.clone(),
    }
}
