//! Of devices that do equally well for the same money, the one that lets shorts open one alone.

use super::choose::{Pick, Why};
use super::judge::judge;
use super::selectivity::{Alone, Selectivity, between, next_to};
use super::watch::Watch;
use crate::catalog::{Protective, RoughPrices};
use crate::check::HAIR;
use crate::circuit::Wiring;
use crate::job::{LeadId, Protected};
use crate::quantity::Resistance;

/// How much dearer a device may be and still count as the same price. Judgement.
const SAME_PRICE: f64 = 1.05;

/// Puts another device of the same price in the place of one where more pairs become selective.
/// It loses no more voltage, so that no load gets less.
pub fn selective(wiring: &Wiring<'_>, picks: &mut [Pick<'_>]) {
    let mut known = all_pairs(wiring, picks);
    let prices = wiring.catalog.rough_prices();
    for index in 0..picks.len() {
        for device in equals(wiring, &prices, &picks[index]) {
            let before = std::mem::replace(&mut picks[index].best.device, device);
            let Some(now) = more_alone(wiring, picks, index, &known) else {
                picks[index].best.device = before;
                continue;
            };
            known = now;
            let pick = &mut picks[index];
            pick.best.checks = judge(&device, &pick.task);
            pick.best.why = Why::OpensAlone;
        }
    }
}

/// Other devices that do as well as the one chosen, for the same money.
fn equals<'a>(
    wiring: &Wiring<'_>,
    prices: &RoughPrices<'_>,
    pick: &Pick<'a>,
) -> Vec<Protective<'a>> {
    let chosen = &pick.best.device;
    let auto = wiring.job.lead(pick.id).protected == Protected::Auto;
    if !auto || !pick.task.done_by(chosen) {
        return Vec::new();
    }
    let most = prices.of_device(chosen) * SAME_PRICE;
    let others = pick.wanted.iter().filter(|device| {
        device.part != chosen.part
            && device.resistance <= chosen.resistance * (1.0 + HAIR)
            && prices.of_device(device) <= most
            && pick.task.done_by(device)
    });
    others.copied().collect()
}

/// Two devices one behind the other: the lead of the one nearer to the source, and the other.
type Pair = (LeadId, Selectivity);

/// All pairs with the devices as picked, where more of them are selective than of the known ones.
/// The pairs that one device is in are looked at first: most devices better none of these.
fn more_alone(
    wiring: &Wiring<'_>,
    picks: &[Pick<'_>],
    changed: usize,
    known: &[Pair],
) -> Option<Vec<Pair>> {
    let lead = picks[changed].id;
    let is_own = |(upstream, pair): &&Pair| *upstream == lead || pair.downstream == lead;
    let own: Vec<&Pair> = known.iter().filter(is_own).collect();
    let before = own.iter().filter(|pair| is_alone(pair)).count();
    if before == own.len() {
        return None;
    }
    let now = watching(wiring, picks, |watch| {
        let pairs = own.iter();
        let again = pairs.filter_map(|(upstream, pair)| between(watch, *upstream, pair.downstream));
        again.filter(|pair| pair.alone == Alone::Always).count()
    });
    if now <= before {
        return None;
    }
    let all = all_pairs(wiring, picks);
    let count = |pairs: &[Pair]| pairs.iter().filter(|pair| is_alone(pair)).count();
    (count(&all) > count(known)).then_some(all)
}

/// Whether a pair is selective at every short.
fn is_alone((_, pair): &Pair) -> bool {
    pair.alone == Alone::Always
}

/// Every pair of devices one behind the other.
fn all_pairs(wiring: &Wiring<'_>, picks: &[Pick<'_>]) -> Vec<Pair> {
    watching(wiring, picks, |watch| {
        let leads = picks.iter().map(|pick| pick.id);
        leads
            .flat_map(|lead| {
                next_to(watch, lead)
                    .into_iter()
                    .map(move |pair| (lead, pair))
            })
            .collect()
    })
}

/// Looks at the wiring with the devices as picked.
fn watching<T>(wiring: &Wiring<'_>, picks: &[Pick<'_>], look: impl FnOnce(&Watch<'_>) -> T) -> T {
    let devices: Vec<(LeadId, Protective<'_>)> = picks
        .iter()
        .map(|pick| (pick.id, pick.best.device))
        .collect();
    let wired = with_devices(wiring, &devices);
    look(&Watch::of(&wired, &devices))
}

/// The wiring with the resistances of the devices chosen.
pub fn with_devices<'w>(wiring: &Wiring<'w>, devices: &[(LeadId, Protective<'_>)]) -> Wiring<'w> {
    let mut guards = vec![Resistance::ZERO; wiring.job.leads.len()];
    for (lead, device) in devices {
        guards[lead.0] = device.resistance;
    }
    Wiring {
        guards,
        ..wiring.clone()
    }
}
