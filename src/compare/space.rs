//! How much room a part takes, in words.

use crate::catalog::Catalog;
use crate::quantity::Length;

/// The measure that decides whether a part finds room; nothing for parts that fit anywhere.
pub fn space(id: &str, catalog: &Catalog) -> Option<String> {
    let is = |own: &str| own == id;
    let cable = catalog.cable(id).map(|row| {
        format!(
            "{} thick, bends to {}",
            mm(row.outer_diameter),
            mm(row.min_bend_radius)
        )
    });
    let lug = catalog.lugs.iter().find(|row| is(&row.id));
    let lug = lug.map(|row| format!("palm {} wide", mm(row.palm_width)));
    let clamp = catalog.clamps.iter().find(|row| is(&row.id));
    let clamp =
        clamp.map(|row| format!("holds {} to {}", mm(row.min_diameter), mm(row.max_diameter)));
    let passage = catalog.feed_throughs.iter().find(|row| is(&row.id));
    let passage = passage.map(|row| format!("hole {}", mm(row.hole)));
    let ring = catalog.grommets.iter().find(|row| is(&row.id));
    let ring = ring.map(|row| format!("hole {}", mm(row.hole)));
    let bus = catalog.buses.iter().find(|row| is(&row.id));
    let bus = bus.map(|row| format!("{} studs {}", row.studs, row.stud));
    cable.or(lug).or(clamp).or(passage).or(ring).or(bus)
}

fn mm(length: Length) -> String {
    format!("{:.1} mm", length.mm())
}
