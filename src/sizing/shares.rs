//! The least part of a short that a conductor carries, whatever the sizes.
//!
//! Where a short has several ways back it parts by their resistances. A lead on them, made thinner, turns
//! current towards a conductor or away from it. With every lead at the end that turns most away, the
//! conductor carries least.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::ends::chosen;
use super::outfit::{Outfit, Stock};
use crate::circuit::{Faults, Guarded, Wiring};
use crate::job::LeadId;

/// Cables of a conductor for which its share is worked out; one between them gets that of the thinner.
const POINTS: usize = 6;
/// Changes of a share by less than this are rounding alone.
const ROUNDING: f64 = 1e-9;

/// How a device's short parts among conductors.
pub trait Shares {
    /// The part that a conductor carries of a short beyond a lead, by the conductor's option; `None`
    /// where it is not known.
    fn of(&self, asks: usize, conductor: &Guarded) -> Option<Vec<f64>>;
}

/// As shorts part with the thickest cables, which is mostly near the truth.
pub struct AtThickest<'s>(pub &'s [Vec<Outfit>]);

impl Shares for AtThickest<'_> {
    fn of(&self, _: usize, conductor: &Guarded) -> Option<Vec<f64>> {
        Some(vec![conductor.share; self.0[conductor.lead.0].len()])
    }
}

/// Known of conductors that carry all of it.
pub struct Whole<'s>(pub &'s [Vec<Outfit>]);

impl Shares for Whole<'_> {
    fn of(&self, _: usize, conductor: &Guarded) -> Option<Vec<f64>> {
        let whole = conductor.is_whole();
        whole.then(|| vec![1.0; self.0[conductor.lead.0].len()])
    }
}

/// The least that they are with any sizes.
pub struct Least<'s, 'a> {
    stock: &'s Stock<'a>,
    options: &'s [Vec<Outfit>],
    generous: &'s [usize],
    meagre: &'s [usize],
    /// The leads on rings that have more than one option.
    looped: &'s [usize],
    shorts: RefCell<BTreeMap<Vec<usize>, Rc<Shorts<'a>>>>,
}

/// Shorts with a set of options.
struct Shorts<'a> {
    wiring: Wiring<'a>,
    faults: Faults,
    /// How they part beyond each lead that was asked for.
    shares: RefCell<BTreeMap<LeadId, Vec<(LeadId, f64)>>>,
}

impl<'s, 'a> Least<'s, 'a> {
    /// For options between their thickest and thinnest ones.
    pub fn of(
        stock: &'s Stock<'a>,
        options: &'s [Vec<Outfit>],
        (generous, meagre): (&'s [usize], &'s [usize]),
        looped: &'s [usize],
    ) -> Self {
        Self {
            stock,
            options,
            generous,
            meagre,
            looped,
            shorts: RefCell::default(),
        }
    }

    fn share(&self, at: &[usize], asks: usize, carries: LeadId) -> f64 {
        let shorts = self.shorts(at);
        let (faults, wiring) = (&shorts.faults, &shorts.wiring);
        let mut known = shorts.shares.borrow_mut();
        let shares = known
            .entry(LeadId(asks))
            .or_insert_with(|| faults.return_shares(wiring, LeadId(asks)));
        let own = shares.iter().find(|(lead, _)| *lead == carries);
        own.map_or(0.0, |(_, share)| *share)
    }

    fn shorts(&self, at: &[usize]) -> Rc<Shorts<'a>> {
        let mut known = self.shorts.borrow_mut();
        let shorts = known.entry(at.to_vec()).or_insert_with(|| {
            let wiring = self.stock.wiring(&chosen(self.options, at));
            Rc::new(Shorts {
                faults: Faults::of(&wiring),
                wiring,
                shares: RefCell::default(),
            })
        });
        Rc::clone(shorts)
    }

    /// The options of all other leads with which a conductor carries least; `None` where a lead turns
    /// current towards it with some sizes and away from it with others.
    fn corner(&self, asks: usize, carries: LeadId) -> Option<Vec<usize>> {
        let mut corner = self.generous.to_vec();
        for lead in self
            .looped
            .iter()
            .copied()
            .filter(|lead| *lead != carries.0)
        {
            let changed = |from: &[usize], to: &[usize]| {
                let mut other = from.to_vec();
                other[lead] = to[lead];
                self.share(&other, asks, carries) - self.share(from, asks, carries)
            };
            // What the lead made thinner changes, with all others thick and with all others thin.
            let among_thick = changed(self.generous, self.meagre);
            let among_thin = -changed(self.meagre, self.generous);
            let (least, most) = (among_thick.min(among_thin), among_thick.max(among_thin));
            if least < -ROUNDING && most > ROUNDING {
                return None;
            }
            if least < -ROUNDING {
                corner[lead] = self.meagre[lead];
            }
        }
        Some(corner)
    }
}

impl Shares for Least<'_, '_> {
    fn of(&self, asks: usize, conductor: &Guarded) -> Option<Vec<f64>> {
        let (carries, options) = (conductor.lead, &self.options[conductor.lead.0]);
        if conductor.is_whole() {
            return Whole(self.options).of(asks, conductor);
        }
        let mut at = self.corner(asks, carries)?;
        // The thicker a conductor is, the more it carries.
        let ohm = |option: &usize| self.stock.ohm(carries.0, &options[*option]);
        let mut thicker: Vec<usize> = (0..options.len()).collect();
        thicker.sort_by(|a, b| ohm(b).total_cmp(&ohm(a)));
        let step = thicker.len().div_ceil(POINTS).max(1);
        let mut shares = vec![0.0; options.len()];
        for few in thicker.chunks(step) {
            at[carries.0] = *few.first()?;
            let share = self.share(&at, asks, carries);
            for option in few {
                shares[*option] = share;
            }
        }
        Some(shares)
    }
}
