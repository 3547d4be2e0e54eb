//! What one size thicker costs and brings, and what lying alone would save, in sentences.

use super::build::Context;
use crate::sizing::Split;

/// What can be said of the next thicker cable of a lead, by position.
pub fn told(context: Context<'_>, lead: usize) -> String {
    let given = context.job.leads.get(lead);
    let sized = context.plan.sizing.leads.get(lead);
    let (Some(given), Some(sized)) = (given, sized) else {
        return String::new();
    };
    if given.size.is_some() {
        return format!(
            "The job fixes the size of `{}`; with size = \"auto\" the program may take a thicker \
             one.",
            given.name
        );
    }
    let Some(thicker) = &sized.thicker else {
        return format!(
            "No thicker cable suits the way and the studs of `{}`.",
            given.name
        );
    };
    let opening = if thicker.size == sized.size {
        format!("A cable of {} with less resistance", thicker.size)
    } else {
        format!("One size thicker, {},", thicker.size)
    };
    let currency = context.job.currency.code();
    let cost = if thicker.dearer < 0.0 {
        format!("{:.2} {currency} less", -thicker.dearer)
    } else {
        format!("{:.2} {currency} more", thicker.dearer)
    };
    format!(
        "{opening} costs about {cost} and brings {}.",
        thicker.brings
    )
}

/// What clamps of its own would save a lead.
pub fn split_told(context: Context<'_>, split: &Split) -> String {
    let currency = context.job.currency.code();
    let opening = if split.needed {
        "Among the cables that lie with it, it is overloaded; by itself"
    } else {
        "The cables that lie with it keep it warm; by itself"
    };
    format!(
        "{opening}, on clamps of its own (`own_clamps = true`), {} would do: about {:.2} {currency} \
         less for the lead, {:.2} {currency} for {} clamps more.",
        split.size, split.saves, split.clamps_cost, split.clamps
    )
}
