//! What can be had, and the plan made with that alone.
//!
//! No stage knows of parts that are not to be had: they plan from a catalog without them, so that
//! each takes the next best fit. Parts that the job names itself stay, for the program must not
//! take another in their place unasked; so do those of which enough is on hand. The purchase tells
//! of the ones that are wanted all the same.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::{Extras, Inputs, Plan, Status, straight};
use crate::catalog::{Basis, Cable, Catalog, Cited, Part, Tool};
use crate::check::{Check, CheckRule, Verdict};
use crate::file::Choice;
use crate::job::{Job, Protected};
use crate::shop::ShopFile;

/// How many broken checks are told with a part that nothing replaces.
const TOLD: usize = 3;

/// A plan with the catalog that it was made from.
pub struct Supplied<'a> {
    /// The plan.
    pub plan: Plan,
    /// What could be had.
    pub catalog: Cow<'a, Catalog>,
}

/// Makes the plan with what can be had.
pub fn make(inputs: Inputs<'_>, extras: Extras) -> Supplied<'_> {
    let Inputs {
        job, shop, catalog, ..
    } = inputs;
    if shop.unavailable.is_empty() && shop.preferred.is_empty() {
        return Supplied {
            plan: straight(inputs, extras),
            catalog: Cow::Borrowed(catalog),
        };
    }
    let preferred = |id: &str| shop.preferred.iter().any(|part| part.value == id);
    let wished = catalog.clone().preferring(preferred);
    let lacking = lacking(job, shop, catalog);
    let elsewhere = |id: &&String| !is_on_hand(shop, id);
    let mut gone = with_users(
        lacking.iter().filter(elsewhere).cloned().collect(),
        shop,
        catalog,
    );
    let with = |gone: &BTreeSet<String>| {
        let catalog = wished.clone().without(|id| gone.contains(id));
        let inputs = Inputs {
            catalog: &catalog,
            ..inputs
        };
        let plan = straight(inputs, extras);
        (plan, catalog)
    };
    let (mut plan, mut had) = with(&gone);
    // What is on hand may be too little of it.
    let short = |id: &&String| falls_short(&plan, catalog, id);
    let short: Vec<String> = lacking.iter().filter(short).cloned().collect();
    if !short.is_empty() {
        gone.extend(short);
        gone = with_users(gone, shop, catalog);
        (plan, had) = with(&gone);
    }
    let stocked = ShopFile {
        unavailable: Vec::new(),
        ..shop.clone()
    };
    let whole = Inputs {
        catalog: &wished,
        shop: &stocked,
        ..inputs
    };
    let mut told = irreplaceable(&plan, &gone, shop, whole);
    for check in missing_tools(&plan, &gone, catalog) {
        if told.iter().all(|known| known.subject != check.subject) {
            told.push(check);
        }
    }
    plan.checks.extend(told);
    plan.preferred = shop
        .preferred
        .iter()
        .map(|part| part.value.clone())
        .collect();
    Supplied {
        plan,
        catalog: Cow::Owned(had),
    }
}

/// Ids of the parts that are not to be had, without those that the job itself names.
fn lacking(job: &Job, shop: &ShopFile, catalog: &Catalog) -> BTreeSet<String> {
    let all = shop.unavailable.iter().map(|part| part.value.clone());
    let mut lacking: BTreeSet<String> = all.collect();
    for id in named(job) {
        lacking.remove(id);
    }
    for lead in &job.leads {
        let families = job.rules.auto_families.iter();
        let eligible = |cable: &&Cable| {
            let family = match &lead.family {
                Some(family) => cable.family == *family,
                None => families.clone().any(|family| cable.family == *family),
            };
            family && lead.size.is_none_or(|size| cable.size == size)
        };
        let eligible: Vec<&Cable> = catalog.cables.iter().filter(eligible).collect();
        if eligible.iter().all(|cable| lacking.contains(cable.id())) {
            for cable in eligible {
                lacking.remove(cable.id());
            }
        }
    }
    lacking
}

/// With a press its dies are of no use, and with a die its lugs.
fn with_users(mut gone: BTreeSet<String>, shop: &ShopFile, catalog: &Catalog) -> BTreeSet<String> {
    let dies = catalog.dies.iter();
    let dies = dies.filter(|die| gone.contains(&die.press) && !is_on_hand(shop, die.id()));
    let dies: Vec<String> = dies.map(|die| die.id().to_owned()).collect();
    gone.extend(dies);
    let lugs = catalog.lugs.iter().filter(|lug| gone.contains(&lug.die));
    let lugs: Vec<String> = lugs.map(|lug| lug.id().to_owned()).collect();
    gone.extend(lugs);
    gone
}

/// Ids of parts that the job names.
fn named(job: &Job) -> impl Iterator<Item = &str> {
    let devices = job.devices.iter().map(|device| device.given.part.as_str());
    let buses = job.buses.iter().filter_map(|bus| match &bus.given.part {
        Choice::Fixed(part) => Some(part.as_str()),
        Choice::Auto => None,
    });
    let boxes = job
        .batteries
        .iter()
        .map(|battery| battery.given.enclosure.as_str());
    let guards = job.leads.iter().filter_map(|lead| match &lead.protected {
        Protected::Part(part) => Some(part.as_str()),
        _ => None,
    });
    devices.chain(buses).chain(boxes).chain(guards)
}

fn is_on_hand(shop: &ShopFile, id: &str) -> bool {
    let stocked = shop.stock.iter().any(|stock| stock.part.value == id);
    stocked || shop.tools.iter().any(|tool| tool.value == id)
}

/// Whether the purchase could not get enough of a part.
fn falls_short(plan: &Plan, catalog: &Catalog, id: &str) -> bool {
    let Some(part) = catalog.part(id) else {
        return false;
    };
    let mut checks = plan.purchase.checks.iter();
    // Where a part is sold in colours, the subject names the colour after the description.
    checks.any(|check| {
        check.verdict == Verdict::Fail && check.subject.starts_with(part.description())
    })
}

/// A failing check for every part that the `whole` plan, to which nothing is wanting, would use, where without it limits
/// break that would hold with it.
fn irreplaceable(
    plan: &Plan,
    gone: &BTreeSet<String>,
    shop: &ShopFile,
    whole: Inputs<'_>,
) -> Vec<Check> {
    if gone.is_empty() || plan.status() == Status::Ready {
        return Vec::new();
    }
    let full = straight(whole, Extras::NONE);
    let broken = broken_by_lack(plan, &full);
    // Dies and lugs that are only gone with their press or die are not told of: it is.
    let marked = |id: &&str| shop.unavailable.iter().any(|part| part.value == **id);
    let wanted = full.parts().into_iter().filter(marked);
    let wanted = wanted.filter(|id| gone.contains(*id));
    let wanted: Vec<&dyn Part> = wanted.filter_map(|id| whole.catalog.part(id)).collect();
    if broken.is_empty() {
        return Vec::new();
    }
    let source = Cited {
        value: (),
        citation: "shop file and price lists".to_owned(),
        basis: Basis::User,
    };
    let told = wanted.into_iter().map(|part| {
        let note = format!(
            "`{}` is not to be had, and nothing that can be had does as well: {broken}",
            part.id()
        );
        Check::holds(CheckRule::Supply, part.description(), false, &source).with_note(note)
    });
    told.collect()
}

/// An open check for every tool that steps ask for and that the catalog holds no other of.
fn missing_tools(plan: &Plan, gone: &BTreeSet<String>, catalog: &Catalog) -> Vec<Check> {
    let tools = || catalog.tools.iter();
    let lost = tools().filter(|tool| gone.contains(tool.id()));
    let told = lost.filter_map(|tool| {
        let is_other = |row: &Tool| row.purpose == tool.purpose && !gone.contains(row.id());
        // Where a step found no tool, it names the purpose.
        let word = tool.purpose.to_string();
        let asking = plan.method.steps.iter();
        let asking = asking.filter(|step| step.tools.contains(&word)).count();
        let missing = asking > 0 && !tools().any(is_other);
        missing.then(|| {
            let note = format!(
                "`{}` is not to be had, and the catalog holds no other {word}; the steps ask for \
                 one {asking} times",
                tool.id()
            );
            Check::open(CheckRule::Supply, tool.description(), &note)
        })
    });
    told.collect()
}

/// The checks that do not pass for want of parts, in words; empty where there are none.
fn broken_by_lack(plan: &Plan, full: &Plan) -> String {
    let broken = |check: &&Check| check.verdict != Verdict::Pass;
    let in_full: Vec<&Check> = full.checks.iter().filter(broken).collect();
    let same =
        |a: &Check, b: &Check| a.rule == b.rule && a.subject == b.subject && a.state == b.state;
    let new = plan.checks.iter().filter(broken);
    let new = new.filter(|check| !in_full.iter().any(|known| same(known, check)));
    let new: Vec<String> = new
        .map(|check| format!("{} of {}: {}", check.rule, check.subject, check.note))
        .collect();
    let more = new.len().saturating_sub(TOLD);
    let mut told: Vec<String> = new.into_iter().take(TOLD).collect();
    if more > 0 {
        told.push(format!("and {more} more"));
    }
    told.join("; ")
}
