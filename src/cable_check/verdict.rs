//! What the cable is, how sure that is, and what it may still be used for.

use serde::Serialize;

use super::Sample;
use super::fit::{Fit, fit};
use crate::catalog::{
    AmpacityTable, Catalog, ConductorMaterial, Metal, MetalRow, Setting, Surroundings,
};
use crate::quantity::{ConductorSize, Temperature};

/// The verdict on a sample.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Verdict {
    /// What was measured.
    pub measured: usize,
    /// Each metal with how likely it is, the likeliest first.
    pub guesses: Vec<Guess>,
    /// The verdict on the metal, in a sentence.
    pub metal_told: String,
    /// Whether the metal is told apart for sure: nineteen in twenty.
    pub sure: bool,
    /// Whether what was measured agrees with no metal at all.
    pub contradictory: bool,
    /// Resistance of a metre at 20 °C, in milliohms, and the least and largest that it may be.
    pub milliohm_per_m: [f64; 3],
    /// The largest metric size and the largest gauge that it may still be used as.
    pub usable: Vec<Usable>,
    /// What it is sold as, and whether it is that.
    pub claim: Option<Claim>,
    /// How far the measurements were taken to be off, in a sentence.
    pub doubts_told: String,
}

/// One metal.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Guess {
    /// The metal.
    pub metal: Metal,
    /// How likely it is, in percent, all metals being as likely before anything was measured.
    pub percent: f64,
    /// Area of metal if it is that.
    pub area_mm2: f64,
    /// The least and the largest that the area may be, nineteen times of twenty.
    pub least_mm2: f64,
    /// See `least_mm2`.
    pub most_mm2: f64,
    /// The gauge of about that area.
    pub gauge: String,
    /// How much longer its strands are than the cable, in percent.
    pub lay_percent: f64,
    /// How badly the measurements agree with one another, in standard deviations.
    pub misfit: f64,
    /// Publication behind its figures.
    pub source: String,
}

/// A size that it may be used as.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Usable {
    /// The size of copper cable whose standard it still keeps.
    pub size: String,
    /// Largest resistance that the standard allows that size, in milliohms for a metre.
    pub allowed_milliohm_per_m: f64,
    /// What the setting's table allows that size, alone in air of the table's temperature, at 105 °C.
    pub amps: Option<f64>,
    /// The table.
    pub table: String,
}

/// What it is sold as.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Claim {
    /// The size.
    pub size: String,
    /// Whether it keeps the standard of copper cable of that size.
    pub kept: bool,
    /// The same in a sentence.
    pub told: String,
}

/// Insulation rating at which a size's current is told.
const RATING: Temperature = Temperature::from_c(105.0);

/// Judges a sample; `None` where nothing was measured, or the catalog has no metals.
pub fn check(
    sample: &Sample,
    sold_as: Option<ConductorSize>,
    setting: Setting,
    catalog: &Catalog,
) -> Option<Verdict> {
    if sample.measured() == 0 {
        return None;
    }
    let fits = catalog
        .metals
        .iter()
        .filter_map(|metal| Some((metal, fit(sample, metal)?)));
    let mut fits: Vec<(&MetalRow, Fit)> = fits.collect();
    fits.sort_by(|a, b| a.1.misfit.total_cmp(&b.1.misfit));
    let (best_metal, best) = *fits.first()?;
    let likely = |fit: &Fit| (-(fit.misfit - best.misfit) / 2.0).exp();
    let all: f64 = fits.iter().map(|(_, fit)| likely(fit)).sum();
    let guesses: Vec<Guess> = fits
        .iter()
        .map(|(metal, fit)| guess(metal, fit, likely(fit) / all))
        .collect();
    let milliohm = milliohm_per_m(sample, best_metal, &best);
    let rules = catalog.rules(setting)?;
    let table = catalog.ampacity_table(&rules.ampacity_table);
    // What copper cable of a size carries, so does this: its resistance is no larger.
    let usable = [true, false]
        .into_iter()
        .filter_map(|metric| usable(milliohm[0], metric, table, catalog));
    let contradictory = best.misfit > CONTRADICTORY;
    Some(Verdict {
        measured: sample.measured(),
        sure: told_apart(&guesses) && !contradictory,
        metal_told: metal_told(&guesses, sample.measured(), contradictory),
        contradictory,
        milliohm_per_m: milliohm,
        usable: usable.collect(),
        claim: sold_as.and_then(|size| claim(size, milliohm, catalog)),
        guesses,
        doubts_told: doubts_told(sample),
    })
}

/// Four standard deviations: beyond them something was measured wrong.
const CONTRADICTORY: f64 = 16.0;

/// Percent from which something counts as sure.
const SURE: f64 = 95.0;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Family {
    Copper,
    Clad,
    Aluminium,
}

const fn family_of(metal: Metal) -> Family {
    match metal {
        Metal::Copper => Family::Copper,
        Metal::CladTenth | Metal::CladSeventh => Family::Clad,
        Metal::Aluminium => Family::Aluminium,
    }
}

fn family(guesses: &[Guess]) -> Family {
    guesses
        .first()
        .map_or(Family::Copper, |best| family_of(best.metal))
}

/// Percent that the metal is of the likeliest family; the two thicknesses of copper skin are one.
fn of_family(guesses: &[Guess]) -> f64 {
    let best = family(guesses);
    let same = guesses
        .iter()
        .filter(|guess| family_of(guess.metal) == best);
    same.map(|guess| guess.percent).sum()
}

fn told_apart(guesses: &[Guess]) -> bool {
    of_family(guesses) >= SURE
}

fn metal_told(guesses: &[Guess], measured: usize, contradictory: bool) -> String {
    if contradictory {
        return "What was measured does not agree with any metal: measure again.".to_owned();
    }
    if measured < 2 {
        return "One measurement alone does not tell the metal: take a second one of strands, weight and resistance.".to_owned();
    }
    let name = match family(guesses) {
        Family::Copper => "copper",
        Family::Clad => "copper-clad aluminium",
        Family::Aluminium => "aluminium",
    };
    let percent = of_family(guesses);
    let how = if percent >= SURE {
        "It is"
    } else {
        "It may be"
    };
    format!("{how} {name} ({percent:.1} % sure, every metal being as likely before).")
}

fn guess(metal: &MetalRow, fit: &Fit, part: f64) -> Guess {
    let area = fit.area.mm2();
    Guess {
        metal: metal.metal,
        percent: part * 100.0,
        area_mm2: area,
        least_mm2: area * (-2.0 * fit.deviation).exp(),
        most_mm2: area * (2.0 * fit.deviation).exp(),
        gauge: gauge(area),
        lay_percent: (fit.lay - 1.0) * 100.0,
        misfit: fit.misfit.sqrt(),
        source: format!("{} ({})", metal.citation, metal.basis),
    }
}

/// The gauge whose area is nearest.
fn gauge(mm2: f64) -> String {
    let gauges = (-3..=40_i8).map(ConductorSize::Awg);
    let off = |size: &ConductorSize| (size.nominal_area().mm2() / mm2).ln().abs();
    let nearest = gauges.min_by(|a, b| off(a).total_cmp(&off(b)));
    nearest.map_or_else(String::new, |size| size.to_string())
}

/// Resistance of a metre: as measured where it was, else as fitted, with its least and largest.
fn milliohm_per_m(sample: &Sample, metal: &MetalRow, fit: &Fit) -> [f64; 3] {
    let beta = metal.beta.c();
    let measured = sample.resistance.map(|resistance| {
        let cold = resistance.ohm() * (beta + 20.0) / (beta + sample.temperature.c());
        let doubt = sample
            .doubts
            .resistance
            .fraction()
            .hypot(sample.doubts.length.fraction());
        (cold / sample.length.m() * 1e3, doubt)
    });
    let (value, doubt) = measured.unwrap_or_else(|| {
        let ohm = metal.resistivity.get() * fit.lay / (fit.area.mm2() * 1e-6);
        (ohm * 1e3, 2.0 * fit.deviation)
    });
    [value, value * (1.0 - doubt).max(0.0), value * (1.0 + doubt)]
}

/// The largest resistance that the catalog's copper cables of a size may have.
fn allowed(size: ConductorSize, catalog: &Catalog) -> Option<f64> {
    let cables = catalog.cables.iter();
    let copper = cables
        .filter(|cable| cable.size == size && cable.material != ConductorMaterial::CladAluminium);
    let ohms = copper.map(|cable| cable.max_resistance.get() * 1e3);
    ohms.reduce(f64::max)
}

/// The largest size, metric or gauge, whose standard the resistance keeps.
fn usable(
    milliohm: f64,
    metric: bool,
    table: Option<&AmpacityTable>,
    catalog: &Catalog,
) -> Option<Usable> {
    let cables = catalog.cables.iter().map(|cable| cable.size);
    let sizes = cables.filter(|size| matches!(size, ConductorSize::Metric(_)) == metric);
    let kept = sizes.filter_map(|size| {
        let most = allowed(size, catalog)?;
        (milliohm <= most).then_some((size, most))
    });
    let area = |size: &ConductorSize| size.nominal_area().mm2();
    let (size, most) = kept.max_by(|a, b| area(&a.0).total_cmp(&area(&b.0)))?;
    let allowed = table.and_then(|table| {
        let around = Surroundings {
            ambient: table.ambient,
            engine_space: false,
            bundled: 1,
        };
        table.allowed(size, RATING, around)
    });
    Some(Usable {
        size: size.to_string(),
        allowed_milliohm_per_m: most,
        amps: allowed.map(|allowed| allowed.current.a()),
        table: table.map_or_else(String::new, |table| table.name.clone()),
    })
}

fn claim(size: ConductorSize, milliohm: [f64; 3], catalog: &Catalog) -> Option<Claim> {
    let most = allowed(size, catalog)?;
    // In doubt for the cable: what is broken for sure is told.
    let kept = milliohm[1] <= most;
    let told = format!(
        "Sold as {size}, for which copper cable may have {most:.3} mΩ a metre at 20 °C; this has {:.3} mΩ \
         ({:.3} to {:.3}): {}.",
        milliohm[0],
        milliohm[1],
        milliohm[2],
        match (kept, milliohm[0] <= most) {
            (true, true) => "it is what it says",
            (true, false) => "it may just be what it says; measure more closely",
            (false, _) => "it is not what it says",
        }
    );
    Some(Claim {
        size: size.to_string(),
        kept,
        told,
    })
}

fn doubts_told(sample: &Sample) -> String {
    let doubts = &sample.doubts;
    format!(
        "Taken as right within, nineteen times of twenty: strand {:.3} mm, diameter {:.1} %, weight {:.1} %, \
         length {:.1} %, resistance {:.1} %, temperature {:.0} K; strands {:.1} % longer than the cable, give or \
         take {:.1} %; {:.0} % of the round is metal, give or take {:.0} % ({}).",
        doubts.strand.mm(),
        doubts.diameter.percent(),
        doubts.weight.percent(),
        doubts.length.percent(),
        doubts.resistance.percent(),
        doubts.temperature.k(),
        doubts.lay.percent(),
        doubts.lay_doubt.percent(),
        doubts.fill.percent(),
        doubts.fill_doubt.percent(),
        doubts.source
    )
}
