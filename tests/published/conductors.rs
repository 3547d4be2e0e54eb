//! Wire gauge, resistance, dies and heating.

use longlead::catalog::{ConductorMaterial, Part};

use super::support::{CATALOG, family, size};

/// ASTM B258, d = 0.127 mm × 92^((36 − n) / 39); areas and solid copper at 20 °C by the annealed
/// copper standard of NBS Handbook 100, 17.241 / area ohm/km (computed; four digits agree with the
/// handbook's, which are from memory). Last: FAA AC 43.13-1B Table 11-9, largest resistance of
/// tin-plated stranded wire in ohm/km, printed as ohm/1000 ft with two decimals (read).
const GAUGES: [(&str, f64, f64, f64); 15] = [
    ("4/0 AWG", 107.2193, 0.1608, 0.197),
    ("3/0 AWG", 85.0288, 0.2028, 0.230),
    ("2/0 AWG", 67.4309, 0.2557, 0.295),
    ("1/0 AWG", 53.4751, 0.3224, 0.394),
    ("1 AWG", 42.4077, 0.4066, 0.492),
    ("2 AWG", 33.6308, 0.5127, 0.591),
    ("3 AWG", 26.6705, 0.6464, f64::INFINITY),
    ("4 AWG", 21.1506, 0.8152, 0.919),
    ("6 AWG", 13.3018, 1.296, 1.444),
    ("8 AWG", 8.3656, 2.061, 2.297),
    ("10 AWG", 5.2612, 3.277, 4.134),
    ("12 AWG", 3.3088, 5.211, 6.627),
    ("14 AWG", 2.0809, 8.285, 10.039),
    ("16 AWG", 1.3087, 13.17, 15.781),
    // The handbook's 18 AWG strand holds 1900 circular mils, more than the gauge's 1624; its limit
    // of 20.44 ohm/km is below solid copper of the gauge and binds no cable of that size.
    ("18 AWG", 0.8230, 20.95, f64::INFINITY),
];

#[test]
fn gauge_sizes_have_the_areas_of_astm_b258() {
    for (gauge, area, ..) in GAUGES {
        let found = size(gauge).nominal_area().mm2();
        assert!((found / area - 1.0).abs() < 1e-4, "{gauge}: {found}");
    }
}

#[test]
fn no_gauge_cable_conducts_better_than_solid_copper_of_its_size() {
    let mut seen = 0;
    for cable in &CATALOG.cables {
        for (gauge, _, solid, _) in GAUGES {
            if cable.size == size(gauge) && cable.material != ConductorMaterial::CladAluminium {
                let ohm_per_km = cable.max_resistance.get() * 1000.0;
                assert!(ohm_per_km >= solid, "{}: {ohm_per_km}", cable.id());
                seen += 1;
            }
        }
    }
    assert!(seen >= 20, "{seen}");
}

#[test]
fn tinned_gauge_cable_stays_within_the_aircraft_handbook() {
    for cable in family("tinned AWG") {
        let row = GAUGES.iter().find(|row| size(row.0) == cable.size);
        let (gauge, .., most) = row.unwrap();
        // The handbook prints two decimals of ohm/1000 ft: half a hundredth is 0.016 ohm/km.
        let ohm_per_km = cable.max_resistance.get() * 1000.0;
        assert!(
            ohm_per_km <= most + 0.0165,
            "{gauge}: {ohm_per_km} over {most}"
        );
    }
}

/// IEC 60228:2004 Tables 2 and 3, largest resistance at 20 °C in ohm/km: class 2 plain, class 5 and
/// 6 plain, class 5 and 6 tinned (cross-checked in two to three reprints).
const IEC_60228: [(f64, f64, f64, f64); 14] = [
    (0.75, 24.5, 26.0, 26.7),
    (1.0, 18.1, 19.5, 20.0),
    (1.5, 12.1, 13.3, 13.7),
    (2.5, 7.41, 7.98, 8.21),
    (4.0, 4.61, 4.95, 5.09),
    (6.0, 3.08, 3.30, 3.39),
    (10.0, 1.83, 1.91, 1.95),
    (16.0, 1.15, 1.21, 1.24),
    (25.0, 0.727, 0.780, 0.795),
    (35.0, 0.524, 0.554, 0.565),
    (50.0, 0.387, 0.386, 0.393),
    (70.0, 0.268, 0.272, 0.277),
    (95.0, 0.193, 0.206, 0.210),
    (120.0, 0.153, 0.161, 0.164),
];

#[test]
fn metric_cables_have_the_largest_resistances_of_iec_60228() {
    for name in [
        "fine-strand",
        "welding",
        "high-temperature",
        "tinned",
        "stiff",
    ] {
        for cable in family(name) {
            let area = cable.size.nominal_area().mm2();
            let row = IEC_60228
                .iter()
                .find(|row| (row.0 - area).abs() < 1e-9)
                .unwrap();
            let expected = match (cable.conductor_class, cable.material) {
                (2, _) => row.1,
                (_, ConductorMaterial::TinnedCopper) => row.3,
                _ => row.2,
            };
            let found = cable.max_resistance.get() * 1000.0;
            assert!((found - expected).abs() < 1e-9, "{}: {found}", cable.id());
        }
    }
}

/// ISO 6722-1:2011, largest resistance at 20 °C in milliohm per metre (memory).
// The 3.14 of 6 mm2 is a resistance and not pi.
#[allow(clippy::approx_constant)]
#[test]
fn thin_wall_cable_has_the_resistances_of_iso_6722() {
    let table = [
        (0.75, 24.7),
        (1.0, 18.5),
        (1.5, 12.7),
        (2.5, 7.60),
        (4.0, 4.71),
        (6.0, 3.14),
        (10.0, 1.82),
        (16.0, 1.16),
    ];
    for cable in family("thin-wall") {
        let area = cable.size.nominal_area().mm2();
        let row = table
            .iter()
            .find(|row| (row.0 - area).abs() < 1e-9)
            .unwrap();
        let found = cable.max_resistance.get() * 1000.0;
        assert!((found - row.1).abs() < 1e-9, "{}: {found}", cable.id());
    }
}

/// DIN 46235 and DIN 48083-4: code numbers of hexagon dies by conductor size (memory).
#[test]
fn lugs_for_stiff_strand_name_the_die_codes_of_din_46235() {
    let codes = [
        ("6 mm2", "5"),
        ("10 mm2", "6"),
        ("16 mm2", "8"),
        ("25 mm2", "10"),
        ("35 mm2", "12"),
        ("50 mm2", "14"),
        ("70 mm2", "16"),
        ("95 mm2", "18"),
        ("120 mm2", "20"),
    ];
    for (conductor, code) in codes {
        let mut seen = 0;
        for lug in &CATALOG.lugs {
            if lug.classes.contains(&2) && lug.sizes.contains(&size(conductor)) {
                let die = CATALOG.dies.iter().find(|die| *die.id == lug.die).unwrap();
                assert_eq!(die.code, code, "{}", lug.id());
                seen += 1;
            }
        }
        assert!(seen > 0, "no lug for stiff {conductor}");
    }
}

/// DIN 46235: inner diameter of the barrel in millimetres (memory).
#[test]
fn barrels_for_stiff_strand_have_the_bores_of_din_46235() {
    let bores = [
        ("6 mm2", 3.8),
        ("10 mm2", 4.5),
        ("16 mm2", 5.5),
        ("25 mm2", 7.0),
        ("35 mm2", 8.2),
        ("50 mm2", 10.0),
        ("70 mm2", 11.5),
        ("95 mm2", 13.5),
        ("120 mm2", 15.5),
    ];
    for (conductor, bore) in bores {
        for lug in &CATALOG.lugs {
            if lug.classes.contains(&2) && lug.sizes.contains(&size(conductor)) {
                assert!((lug.barrel_inner.mm() - bore).abs() < 1e-9, "{}", lug.id());
            }
        }
    }
}

/// IEC 60364-5-54 Tables A.54.2 and A.54.4: start and end temperature, printed k of copper (read in
/// national adoptions).
#[test]
fn the_heating_constant_gives_the_printed_k_of_copper() {
    let table = [
        (70.0, 160.0, 115.0),
        (70.0, 140.0, 103.0),
        (90.0, 140.0, 86.0),
        (60.0, 200.0, 141.0),
        (30.0, 200.0, 159.0),
        (30.0, 150.0, 138.0),
        (90.0, 160.0, 100.0),
        (90.0, 250.0, 143.0),
        (85.0, 220.0, 134.0),
        (180.0, 350.0, 132.0),
        (30.0, 160.0, 143.0),
        (30.0, 250.0, 176.0),
        (30.0, 220.0, 166.0),
        (30.0, 500.0, 228.0),
    ];
    let copper = CATALOG.material(ConductorMaterial::Copper).unwrap();
    let beta = copper.beta.c();
    for (start, end, printed) in table {
        let rise: f64 = (beta + end) / (beta + start);
        let k = f64::from(copper.heating_constant) * rise.ln().sqrt();
        assert!(
            (k - printed).abs() <= 1.2,
            "{start} to {end}: {k} instead of {printed}"
        );
    }
}

/// A barrel made for stiff strand is another part than one for fine strand, and no barrel is made
/// for copper-clad aluminium (common practice).
#[test]
fn barrels_are_kept_apart_by_strand_and_metal() {
    for lug in &CATALOG.lugs {
        let stiff = lug.classes.contains(&2);
        let fine = lug.classes.contains(&5) || lug.classes.contains(&6);
        // Small ring terminals are crimped by indent and take both (DIN 46234, read).
        let small = lug.sizes.iter().all(|size| size.nominal_area().mm2() < 6.0);
        assert!(small || stiff != fine, "{}", lug.id());
        assert!(!lug.materials.contains(&ConductorMaterial::CladAluminium));
    }
}
