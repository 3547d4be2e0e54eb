//! Mass and room of parts, with where each figure comes from.

use std::f64::consts::PI;

use crate::catalog::{
    BulkRow, Cable, Catalog, Fastener, FastenerKind, Lug, Part, PartKind, Sleeve,
};
use crate::quantity::{Length, Mass, Ratio, Volume};

/// Mass and room of something.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bulk {
    /// Mass of one.
    pub mass: Mass,
    /// Room that one takes.
    pub volume: Volume,
    /// Where the mass comes from.
    pub mass_source: String,
    /// Where the room comes from.
    pub volume_source: String,
}

const CATALOG: &str = "catalog";
const DIMENSIONS: &str = "from its dimensions";

/// Mass and room of a part by the piece; `None` where the catalog has no row for its kind.
pub(super) fn of_part(part: &dyn Part, catalog: &Catalog) -> Option<Bulk> {
    let rows = || rows(part, catalog);
    let mass = part.mass().map(|mass| (mass, CATALOG.to_owned()));
    let mass = mass.or_else(|| rows().find_map(|row| Some((row.mass?, row.source.clone()))));
    let volume = dimensions(part, catalog).map(|volume| (volume, DIMENSIONS.to_owned()));
    let volume = volume.or_else(|| rows().find_map(|row| Some((row.volume?, row.source.clone()))));
    let ((mass, mass_source), (volume, volume_source)) = (mass?, volume?);
    Some(Bulk {
        mass,
        volume,
        mass_source,
        volume_source,
    })
}

/// The rows that speak of a part, the closest first.
fn rows<'a>(part: &dyn Part, catalog: &'a Catalog) -> impl Iterator<Item = &'a BulkRow> + use<'a> {
    let (id, kind) = (part.id().to_owned(), part.kind());
    let tool = catalog.tools.iter().find(|row| *row.id == id);
    let purpose = tool.map(|row| row.purpose);
    let of_kind = catalog.bulks.iter().filter(move |row| row.kind == kind);
    let closeness = move |row: &&BulkRow| match (&row.part, row.purpose) {
        (Some(part), _) => (*part == id).then_some(0),
        (None, Some(wanted)) => (purpose == Some(wanted)).then_some(1),
        (None, None) => Some(2),
    };
    let mut found: Vec<(i32, &BulkRow)> = of_kind
        .filter_map(|row| Some((closeness(&row)?, row)))
        .collect();
    found.sort_by_key(|(closeness, _)| *closeness);
    found.into_iter().map(|(_, row)| row)
}

/// The box round a part, where its row tells enough.
fn dimensions(part: &dyn Part, catalog: &Catalog) -> Option<Volume> {
    let id = part.id();
    match part.kind() {
        PartKind::Lug => catalog.lugs.iter().find(|row| *row.id == id).map(of_lug),
        PartKind::Sleeve => catalog
            .sleeves
            .iter()
            .find(|row| *row.id == id)
            .map(of_sleeve),
        PartKind::Fastener => {
            let row = catalog.fasteners.iter().find(|row| *row.id == id);
            row.and_then(of_fastener)
        }
        _ => None,
    }
}

/// Barrel and palm in line: the barrel is about as long as what is stripped for it, the palm about
/// as long as wide.
fn of_lug(lug: &Lug) -> Volume {
    let length = lug.strip + lug.palm_width;
    Volume::of_box(length, lug.palm_width, lug.barrel_outer)
}

fn of_sleeve(sleeve: &Sleeve) -> Volume {
    Volume::of_box(sleeve.length, sleeve.supplied, sleeve.supplied)
}

/// A nut is about as high as its thread is thick, the head of a bolt a little less.
fn of_fastener(row: &Fastener) -> Option<Volume> {
    let thick = row.thread.diameter();
    let across = row.across_flats?;
    let long = match row.kind {
        FastenerKind::Bolt => row.length? + thick,
        FastenerKind::Nut | FastenerKind::LockingNut => thick,
        _ => return None,
    };
    Some(Volume::of_box(long, across, across))
}

/// Mass and room of a coil of cable.
pub(super) fn of_coil(cable: &Cable, length: Length, fill: Ratio) -> Bulk {
    let area = PI / 4.0 * cable.outer_diameter.m() * cable.outer_diameter.m();
    let fill = fill.fraction().clamp(0.01, 1.0);
    Bulk {
        mass: cable.mass_per_length.of(length),
        volume: Volume::from_l(area * length.m() * 1e3 / fill),
        mass_source: CATALOG.to_owned(),
        volume_source: format!(
            "from its dimensions, coiled, {:.0} % filled (judgement)",
            fill * 100.0
        ),
    }
}
