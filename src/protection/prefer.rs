//! Of devices that do equally well for the same money, the one that lets shorts open one alone.

use super::choose::{Pick, Why};
use super::judge::judge;
use super::selectivity::{Alone, next_to};
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
    let mut alone = pairs_alone(wiring, picks);
    let prices = wiring.catalog.rough_prices();
    for index in 0..picks.len() {
        for device in equals(wiring, &prices, &picks[index]) {
            let before = std::mem::replace(&mut picks[index].best.device, device);
            let now = pairs_alone(wiring, picks);
            if now <= alone {
                picks[index].best.device = before;
                continue;
            }
            alone = now;
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

/// How many pairs of devices one behind the other are selective at every short.
fn pairs_alone(wiring: &Wiring<'_>, picks: &[Pick<'_>]) -> usize {
    let devices: Vec<(LeadId, Protective<'_>)> = picks
        .iter()
        .map(|pick| (pick.id, pick.best.device))
        .collect();
    let wired = with_devices(wiring, &devices);
    let watch = Watch::of(&wired, &devices);
    let leads = devices.iter().map(|(lead, _)| *lead);
    let pairs = leads.flat_map(|lead| next_to(&watch, lead));
    pairs.filter(|pair| pair.alone == Alone::Always).count()
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
