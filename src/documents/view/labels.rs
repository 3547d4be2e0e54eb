//! What is written on both ends of every cable.

use serde::Serialize;

use super::build::Context;
use crate::route::LeadRoute;
use crate::sizing::SizedLead;

/// The label of one end of one cable.
#[derive(Debug, Clone, Serialize)]
pub struct LabelView {
    /// The lead.
    pub lead: String,
    /// Which of its cables, where there are several: `2/3`.
    pub cable: Option<String>,
    /// What this end is on.
    pub here: String,
    /// What the other end is on.
    pub there: String,
    /// Size of the conductor.
    pub size: String,
    /// What protects it; nothing where nothing does.
    pub protection: Option<String>,
    /// All of it in one line.
    pub text: String,
}

/// Two labels for every cable, in the order of the leads.
pub fn views(context: Context<'_>) -> Vec<LabelView> {
    let sized = context.plan.sizing.leads.iter();
    sized
        .zip(&context.plan.route.leads)
        .flat_map(|(sized, way)| of_lead(context, sized, way))
        .collect()
}

fn of_lead(context: Context<'_>, sized: &SizedLead, way: &LeadRoute) -> Vec<LabelView> {
    let lead = &context.job.lead(sized.lead).name;
    let guard = context.plan.protection.guard(sized.lead);
    let protection = guard.map(|guard| format!("{} {:.0} A", guard.kind, guard.rating.a()));
    let numbered = way.sections.iter().enumerate();
    let both = numbered.flat_map(|(index, section)| {
        let (from, to) = (
            context.end_name(sized.lead, index, section.from),
            context.end_name(sized.lead, index, section.to),
        );
        [(index, from.clone(), to.clone()), (index, to, from)]
    });
    both.map(|(index, here, there)| {
        let size = sized.size.to_string();
        let mut parts = vec![
            way.section_name(lead, index),
            format!("{here} > {there}"),
            size.clone(),
        ];
        parts.extend(protection.clone());
        LabelView {
            lead: lead.clone(),
            cable: way.part_of(index),
            here,
            there,
            size,
            protection: protection.clone(),
            text: parts.join(" | "),
        }
    })
    .collect()
}
