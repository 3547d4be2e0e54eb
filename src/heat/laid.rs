//! A cable laid in air: its steady temperature and what it may carry.

use std::f64::consts::PI;

use super::Build;
use crate::catalog::{Cable, Catalog, InstallationRow};
use crate::quantity::{Current, Length, Temperature};
use crate::route::LeadRoute;

/// Where the model ends: copper melts at 1083 °C, so that nothing hotter carries current.
pub const HOTTEST: Temperature = Temperature::from_c(1000.0);

/// A cable laid in still air, out of the sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    /// Ohm per metre that each degree adds; R = slope (beta + T).
    slope: f64,
    beta: f64,
    /// Thermal resistance of the insulation, K m/W.
    inside: f64,
    /// Heat that the surface loses for each metre: loss x (surface excess)^(5/4) watts.
    loss: f64,
    /// Heat taken up by a metre for each kelvin, J/(K m).
    heat: f64,
    ambient: f64,
}

impl Laid {
    /// A cable that lies with others like it, `together` in all, in air of a temperature.
    ///
    /// Which row of the standard holds is not known of a lead in a vehicle, which is clipped to a
    /// panel here and clear of it there: the row counts by which it runs hottest. Several together
    /// are reckoned as one round bundle of equal cables that all carry the same and lose their heat
    /// over the round (judgement; no standard treats them, and unequal cables or currents make it
    /// cautious), and no better than the standard's rows for as many cables or fewer. `None`
    /// without any row, and for figures that no cable has.
    pub fn new(
        build: &Build,
        together: usize,
        ambient: Temperature,
        rows: &[InstallationRow],
    ) -> Option<Self> {
        let round = bundle_diameter(build.outer, together);
        let losses = rows.iter().filter_map(|row| match row.cables as usize {
            1 => Some(loss(row, round) / together.max(1) as f64),
            cables if cables <= together => Some(loss(row, build.outer)),
            _ => None,
        });
        let beta = build.beta.c();
        let laid = Self {
            slope: build.resistance.get() / (beta + 20.0),
            beta,
            inside: build.inside(),
            loss: losses.min_by(f64::total_cmp)?,
            heat: build.heat(),
            ambient: ambient.c(),
        };
        let figures = [laid.slope, laid.inside, laid.loss, laid.heat];
        figures
            .iter()
            .all(|figure| figure.is_finite())
            .then_some(laid)
    }

    /// A cable laid on the way of a lead, in the hottest air of the way and the largest bundle.
    /// `None` where the catalog lacks a row that the model needs.
    pub fn on(way: &LeadRoute, cable: &Cable, catalog: &Catalog) -> Option<Self> {
        let build = Build::of(cable, catalog)?;
        let together = way.bundled_with.max(1);
        Self::new(&build, together, way.ambient, &catalog.installations)
    }

    /// Temperature of the conductor when a current has flown for hours:
    /// T - ambient = I² R(T) (T1 + T4), IEC 60287-1-1. Never above [`HOTTEST`], unless the air is.
    pub fn steady(&self, current: Current) -> Temperature {
        Temperature::from_c(self.steady_c(current.a()))
    }

    /// The current that gives the conductor a temperature in the end; none where the air has it
    /// already.
    pub fn allowed(&self, hottest: Temperature) -> Current {
        let ohm = self.ohm_per_m(hottest.c());
        let watts = self.lost_at(hottest.c()).max(0.0);
        Current::from_a(if ohm > 0.0 { (watts / ohm).sqrt() } else { 0.0 })
    }

    /// With s the excess of the surface over the air, T = ambient + s + T1 loss s^(5/4), so that
    /// heat made = heat lost is slope I² (beta + T(s)) - loss s^(5/4) = 0. That curve is concave:
    /// Newton's method from the right of its root comes down to it and never past it.
    pub(super) fn steady_c(&self, amps: f64) -> f64 {
        const MOST_STEPS: usize = 60;
        let made = amps * amps * self.slope;
        let still = made * (self.beta + self.ambient);
        if still <= 0.0 || self.ambient >= HOTTEST.c() {
            return self.ambient;
        }
        let power = self.loss * (1.0 - made * self.inside);
        let balance = |excess: f64| still + excess * (made - power * excess.sqrt().sqrt());
        let mut excess = self.surface_excess(HOTTEST.c() - self.ambient);
        if balance(excess) >= 0.0 {
            return HOTTEST.c();
        }
        for _ in 0..MOST_STEPS {
            let slope = made - 1.25 * power * excess.sqrt().sqrt();
            let next = excess - balance(excess) / slope;
            let settled = excess - next <= 1e-12 * excess;
            excess = next.max(0.0);
            if settled {
                break;
            }
        }
        self.ambient + excess + self.inside * self.loss * excess * excess.sqrt().sqrt()
    }

    /// Ohm per metre at a temperature of the conductor.
    fn ohm_per_m(&self, celsius: f64) -> f64 {
        (self.slope * (self.beta + celsius)).max(0.0)
    }

    /// How fast the conductor warms, in kelvin per second.
    pub(super) fn warming(&self, amps: f64, celsius: f64) -> f64 {
        (amps * amps * self.ohm_per_m(celsius) - self.lost_at(celsius)) / self.heat
    }

    /// Watts that a metre loses while its conductor has a temperature; below zero where the air is
    /// warmer.
    fn lost_at(&self, celsius: f64) -> f64 {
        let excess = celsius - self.ambient;
        let surface = self.surface_excess(excess.abs());
        (self.loss * surface * surface.sqrt().sqrt()).copysign(excess)
    }

    /// The excess of the surface over the air where that of the conductor is known:
    /// s + T1 loss s^(5/4) = excess, a convex curve; Newton's method from the right.
    fn surface_excess(&self, excess: f64) -> f64 {
        const MOST_STEPS: usize = 60;
        let weight = self.inside * self.loss;
        let mut surface = excess;
        for _ in 0..MOST_STEPS {
            let root = surface.sqrt().sqrt();
            let miss = surface * (1.0 + weight * root) - excess;
            let step = miss / (1.0 + 1.25 * weight * root);
            surface = (surface - step).max(0.0);
            if step <= 1e-12 * excess {
                break;
            }
        }
        surface
    }
}

/// Heat lost by each cable: pi D h, h = Z / D^g + E.
fn loss(row: &InstallationRow, diameter: Length) -> f64 {
    let metres = diameter.m();
    PI * metres * (row.z / metres.powf(row.g) + row.e)
}

/// Diameter of the round that equal cables make together: two lie side by side, more take 1.2 times
/// the root of their number, which is common practice for random lay.
fn bundle_diameter(outer: Length, together: usize) -> Length {
    match together {
        0 | 1 => outer,
        more => outer * (1.2 * (more as f64).sqrt()).max(2.0),
    }
}
