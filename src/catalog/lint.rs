//! Proves that the catalog has no holes.

use std::fmt;

use super::{Assumption, Cable, Catalog, ConductorMaterial, LugAngle, Part, PartKind, RoutingWord};
use crate::quantity::Thread;

/// Something that a part of the catalog needs and that the catalog does not hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hole {
    /// Id of the part that is left without.
    pub part: String,
    /// What is missing.
    pub lacks: String,
}

impl fmt::Display for Hole {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.part, self.lacks)
    }
}

/// Every hole of the catalog.
pub fn lint(catalog: &Catalog) -> Vec<Hole> {
    let mut holes = Vec::new();
    for cable in &catalog.cables {
        // Copper-clad aluminium is in the catalog to be judged, not to be built with.
        if cable.material != ConductorMaterial::CladAluminium {
            holes.extend(cable_holes(cable, catalog));
        }
        holes.extend(heat_holes(cable, catalog));
    }
    holes.extend(stud_holes(catalog));
    holes.extend(offer_holes(catalog));
    holes.extend(routing_holes(catalog));
    holes.extend(assumption_holes(catalog));
    holes.extend(list_holes(catalog));
    holes
}

/// Kinds of parts that have no place on a quote or on a shopping list, or several.
fn list_holes(catalog: &Catalog) -> Vec<Hole> {
    let tools = [PartKind::Tool.as_str(), PartKind::Die.as_str()];
    let count = |lists: Vec<&Vec<PartKind>>, kind: &str| {
        let kinds = lists.into_iter().flatten();
        kinds.filter(|listed| listed.as_str() == kind).count()
    };
    let mut holes = Vec::new();
    for (kind, _) in PartKind::WORDS {
        let groups = catalog.price_groups.iter().map(|row| &row.kinds).collect();
        let aisles = catalog.aisles.iter().map(|row| &row.kinds).collect();
        let wanted = usize::from(!tools.contains(kind));
        for (found, wanted, list) in [
            (count(groups, kind), wanted, "price group"),
            (count(aisles, kind), 1, "aisle"),
        ] {
            if found != wanted {
                holes.push(Hole {
                    part: format!("kind `{kind}`"),
                    lacks: format!("stands in {found} rows `{list}`, not in {wanted}"),
                });
            }
        }
    }
    holes
}

/// Studs that a conductor may meet: heavy conductors are not put on small studs and light ones
/// not on the largest. Common practice.
fn studs_met(cable: &Cable) -> &'static [Thread] {
    use Thread::{Inch1Over2, Inch1Over4, Inch3Over8, Inch5Over16, M5, M6, M8, M10, M12};
    match cable.size.nominal_area().mm2() {
        area if area < 8.0 => &[M5, M6, M8, M10, Inch1Over4, Inch5Over16, Inch3Over8],
        area if area < 60.0 => &[
            M6,
            M8,
            M10,
            M12,
            Inch1Over4,
            Inch5Over16,
            Inch3Over8,
            Inch1Over2,
        ],
        _ => &[M8, M10, M12, Inch5Over16, Inch3Over8, Inch1Over2],
    }
}

fn cable_holes(cable: &Cable, catalog: &Catalog) -> Vec<Hole> {
    let mut lacks = Vec::new();
    let fitting: Vec<_> = catalog.lugs.iter().filter(|lug| lug.fits(cable)).collect();
    for stud in studs_met(cable) {
        if !fitting.iter().any(|lug| lug.stud == *stud) {
            lacks.push(format!("no lug for a stud {stud}"));
        }
    }
    let right_angle = |lug: &&super::Lug| lug.angle == LugAngle::RightAngle;
    if cable.size.nominal_area().mm2() >= 16.0 && !fitting.iter().any(right_angle) {
        lacks.push("no right-angle lug".to_owned());
    }
    for lug in &fitting {
        let grips = |sleeve: &super::Sleeve| sleeve.covers(lug.barrel_outer, cable.outer_diameter);
        if !catalog.sleeves.iter().any(grips) {
            lacks.push(format!(
                "no sleeve that goes over `{}` and grips the cable",
                *lug.id
            ));
        }
    }
    let diameter = cable.outer_diameter;
    if !catalog.clamps.iter().any(|clamp| clamp.grips(diameter)) {
        lacks.push("no clamp".to_owned());
    }
    lacks.sort();
    lacks.dedup();
    let part = cable.id.value.clone();
    lacks
        .into_iter()
        .map(|lacks| Hole {
            part: part.clone(),
            lacks,
        })
        .collect()
}

/// Figures without which the heat of a cable cannot be reckoned.
fn heat_holes(cable: &Cable, catalog: &Catalog) -> Vec<Hole> {
    let (class, material) = (cable.conductor_class, cable.material);
    let lacks = [
        (
            catalog.stranding(class).is_none(),
            format!("no fill for the stranding class {class}"),
        ),
        (
            catalog.material(material).is_none(),
            format!("no figures for {material}"),
        ),
        (
            catalog.insulation(cable.insulation).is_none(),
            format!("no figures for insulation of {}", cable.insulation),
        ),
        (
            catalog.installations.is_empty(),
            "no figures on how cables lose heat to the air".to_owned(),
        ),
    ];
    let lacking = lacks.into_iter().filter(|(lacking, _)| *lacking);
    lacking
        .map(|(_, lacks)| Hole {
            part: cable.id.value.clone(),
            lacks,
        })
        .collect()
}

fn stud_holes(catalog: &Catalog) -> Vec<Hole> {
    let mut holes = Vec::new();
    let mut threads: Vec<(String, Thread)> = Vec::new();
    threads.extend(
        catalog
            .lugs
            .iter()
            .map(|row| (row.id.value.clone(), row.stud)),
    );
    threads.extend(
        catalog
            .buses
            .iter()
            .map(|row| (row.id.value.clone(), row.mount)),
    );
    threads.extend(
        catalog
            .clamps
            .iter()
            .map(|row| (row.id.value.clone(), row.bolt)),
    );
    for (part, thread) in threads {
        if catalog.thread(thread).is_none() {
            let lacks = format!("no wrench and hole for a thread {thread}");
            holes.push(Hole { part, lacks });
        }
    }
    let buses = catalog
        .buses
        .iter()
        .map(|row| (&row.id, row.stud, row.material));
    let feeds = catalog
        .feed_throughs
        .iter()
        .map(|row| (&row.id, row.stud, row.material));
    for (id, thread, material) in buses.chain(feeds) {
        if catalog.stud(thread, material).is_none() {
            let lacks = format!("no torque for a {material} stud {thread}");
            holes.push(Hole {
                part: id.value.clone(),
                lacks,
            });
        }
    }
    holes
}

fn offer_holes(catalog: &Catalog) -> Vec<Hole> {
    let offered: std::collections::BTreeSet<&str> = catalog
        .price_lists
        .iter()
        .flat_map(|list| list.offer.iter().map(|offer| offer.part.as_str()))
        .collect();
    catalog
        .parts()
        .map(Part::id)
        .filter(|id| !offered.contains(id))
        .map(|id| Hole {
            part: id.to_owned(),
            lacks: "nobody offers it".to_owned(),
        })
        .collect()
}

fn routing_holes(catalog: &Catalog) -> Vec<Hole> {
    let words = RoutingWord::WORDS.iter().map(|(word, _)| *word);
    words
        .filter(|word| !catalog.routing.iter().any(|row| row.word.as_str() == *word))
        .map(|word| Hole {
            part: "routing".to_owned(),
            lacks: format!("no factor for `{word}`"),
        })
        .collect()
}

fn assumption_holes(catalog: &Catalog) -> Vec<Hole> {
    let words = Assumption::WORDS.iter().map(|(word, _)| *word);
    words
        .filter(|word| {
            let mut rows = catalog.assumptions.iter();
            !rows.any(|row| row.word.as_str() == *word)
        })
        .map(|word| Hole {
            part: "assumption".to_owned(),
            lacks: format!("no figure for `{word}`"),
        })
        .collect()
}
