//! Lugs, sleeves and boots.
#![allow(clippy::unwrap_used)]

use crate::catalog::{Colour, ConductorMaterial, PartKind};
use crate::check::{CheckRule, Verdict};
use crate::fittings::fixture::PICKUP;
use crate::quantity::{ConductorSize, Thread};

/// Positive ends are covered by red boots: 33 CFR 183.445(b), ABYC E-11 11.5.4.7.5.
#[test]
fn positive_ends_outside_covers_get_red_boots_and_negative_ends_none() {
    let (bench, fittings) = PICKUP.fit();
    assert!(fittings.end("main +").boot.is_some());
    assert!(fittings.end("heater +").boot.is_some());
    assert!(
        fittings.end("front bus").boot.is_none(),
        "the bus has a cover"
    );
    assert!(fittings.end("main -").boot.is_none());
    assert!(fittings.end("earth bed").boot.is_none());
    let boots = fittings
        .needs
        .iter()
        .filter(|need| need.kind == PartKind::Boot);
    for boot in boots {
        assert_eq!(boot.colour, Some(Colour::Red));
    }
    let feed = bench.lead("main feed");
    let check = fittings.about(CheckRule::Termination, "main +");
    assert!(
        check[0]
            .subject
            .starts_with(bench.job.lead(feed).name.as_str())
    );
}

#[test]
fn copper_clad_aluminium_has_no_lug_and_the_misses_say_why() {
    let mut bench = PICKUP.bench();
    let clad = bench
        .catalog
        .cables
        .iter()
        .find(|cable| cable.material == ConductorMaterial::CladAluminium);
    let id = clad.unwrap().id.value.clone();
    bench.recable("earth", &id);
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "earth"),
        Verdict::Fail
    );
    assert!(fittings.end("earth bed").lug.is_none());
    let misfit = fittings
        .misfits
        .iter()
        .find(|misfit| misfit.wanted.contains("copper-clad aluminium"));
    let reasons = misfit.unwrap().nearest[0].lacks.join("; ");
    assert!(reasons.contains("copper-clad aluminium"), "{reasons}");
    // The battery terminal does not fail too: no stud would cure the cable.
    assert_eq!(fittings.end("main -").stud, Some(Thread::M8));
}

#[test]
fn a_lug_for_50_mm2_is_not_taken_for_1_0_awg() {
    let mut bench = PICKUP.bench();
    bench
        .catalog
        .lugs
        .retain(|lug| !lug.sizes.contains(&ConductorSize::Awg(0)));
    let awg = bench.catalog.cables.iter().find(|cable| {
        cable.size == ConductorSize::Awg(0) && cable.material == ConductorMaterial::Copper
    });
    let id = awg.unwrap().id.value.clone();
    bench.recable("earth", &id);
    let fittings = bench.fit();
    assert_eq!(
        fittings.verdict(CheckRule::Termination, "earth"),
        Verdict::Fail
    );
    let misfit = fittings
        .misfits
        .iter()
        .find(|misfit| misfit.wanted.contains("1/0 AWG"));
    let lacks = &misfit.unwrap().nearest[0].lacks;
    assert!(
        lacks.iter().any(|reason| reason.contains("not 1/0 AWG")),
        "{lacks:?}"
    );
}
