//! Area and lay fitted to what was measured, for one metal.
//!
//! With u the logarithm of the area of all strands, each cut square to itself, and v that of how much
//! longer they are than the cable, every measurement is linear:
//!
//! | measured | tells |
//! |---|---|
//! | strands | u = ln(n d² π/4) |
//! | weight of a length | u + v = ln(m / (L density)) |
//! | resistance of a length | v - u = ln(R / (L resistivity)) |
//! | diameter over all | u = ln(fill D² π/4) |
//!
//! Doubts of nineteen in twenty count as two standard deviations.

use std::f64::consts::FRAC_PI_4;

use super::Sample;
use crate::catalog::MetalRow;
use crate::quantity::Area;

/// The best fit for one metal.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    /// Area of all strands.
    pub area: Area,
    /// Standard deviation of its logarithm.
    pub deviation: f64,
    /// How much longer the strands are than the cable.
    pub lay: f64,
    /// Sum of the squares of what does not agree, in standard deviations.
    pub misfit: f64,
}

/// One measurement: what it tells of u and v, and its standard deviation.
struct Told {
    u: f64,
    v: f64,
    value: f64,
    deviation: f64,
}

/// Fits area and lay; `None` where nothing tells of the area.
pub(super) fn fit(sample: &Sample, metal: &MetalRow) -> Option<Fit> {
    let told = told(sample, metal);
    let (mut uu, mut uv, mut vv, mut u, mut v) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for one in &told {
        let sure = 1.0 / (one.deviation * one.deviation);
        uu += one.u * one.u * sure;
        uv += one.u * one.v * sure;
        vv += one.v * one.v * sure;
        u += one.u * one.value * sure;
        v += one.v * one.value * sure;
    }
    let determinant = uu * vv - uv * uv;
    if !(determinant > 0.0 && determinant.is_finite()) {
        return None;
    }
    let area = (u * vv - v * uv) / determinant;
    let lay = (v * uu - u * uv) / determinant;
    let misfit = told.iter().map(|one| {
        let off = (one.u * area + one.v * lay - one.value) / one.deviation;
        off * off
    });
    Some(Fit {
        area: Area::from_mm2(area.exp()),
        deviation: (vv / determinant).sqrt(),
        lay: lay.exp(),
        misfit: misfit.sum(),
    })
}

fn told(sample: &Sample, metal: &MetalRow) -> Vec<Told> {
    let doubts = &sample.doubts;
    let half = |doubt: f64| (doubt / 2.0).max(1e-6);
    let length_m = sample.length.m();
    let round = |mm: f64| (FRAC_PI_4 * mm * mm).ln();
    let mut told = vec![Told {
        u: 0.0,
        v: 1.0,
        value: (1.0 + doubts.lay.fraction()).ln(),
        deviation: half(doubts.lay_doubt.fraction()),
    }];
    if let Some(strands) = sample.strands {
        told.push(Told {
            u: 1.0,
            v: 0.0,
            value: f64::from(strands.count).ln() + round(strands.diameter.mm()),
            deviation: half(2.0 * (doubts.strand / strands.diameter)),
        });
    }
    if let Some(weight) = sample.weight {
        let mm2 = weight.kg() / (length_m * metal.density.get()) * 1e6;
        told.push(Told {
            u: 1.0,
            v: 1.0,
            value: mm2.ln(),
            deviation: half(doubts.weight.fraction().hypot(doubts.length.fraction())),
        });
    }
    if let Some(resistance) = sample.resistance {
        // R(T) / R(20): (beta + T) / (beta + 20), IEC 60949.
        let beta = metal.beta.c();
        let cold = resistance.ohm() * (beta + 20.0) / (beta + sample.temperature.c());
        let per_mm2 = cold / (length_m * metal.resistivity.get()) * 1e-6;
        let warmth = doubts.temperature.k() / (beta + 20.0);
        let doubt = doubts.resistance.fraction().hypot(doubts.length.fraction());
        told.push(Told {
            u: -1.0,
            v: 1.0,
            value: per_mm2.ln(),
            deviation: half(doubt.hypot(warmth)),
        });
    }
    if let Some(diameter) = sample.diameter {
        let doubt = (2.0 * doubts.diameter.fraction()).hypot(doubts.fill_doubt.fraction());
        told.push(Told {
            u: 1.0,
            v: 0.0,
            value: doubts.fill.fraction().ln() + round(diameter.mm()),
            deviation: half(doubt),
        });
    }
    told
}
