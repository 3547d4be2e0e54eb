//! How much room a part takes, in words.

use crate::catalog::Catalog;
use crate::job::Units;

/// The measure that decides whether a part finds room; nothing for parts that fit anywhere.
pub fn space(id: &str, catalog: &Catalog, units: Units) -> Option<String> {
    let is = |own: &str| own == id;
    let cable = catalog.cable(id).map(|row| {
        format!(
            "{} thick, bends to {}",
            units.on_calliper(row.outer_diameter),
            units.on_tape_at_least(row.min_bend_radius)
        )
    });
    let lug = catalog.lugs.iter().find(|row| is(&row.id));
    let lug = lug.map(|row| format!("palm {} wide", units.on_calliper(row.palm_width)));
    let clamp = catalog.clamps.iter().find(|row| is(&row.id));
    let clamp = clamp.map(|row| {
        let (least, most) = (row.min_diameter, row.max_diameter);
        format!(
            "holds {} to {}",
            units.on_calliper(least),
            units.on_calliper(most)
        )
    });
    let passage = catalog.feed_throughs.iter().find(|row| is(&row.id));
    let passage = passage.map(|row| format!("hole {}", units.drill(row.hole)));
    let ring = catalog.grommets.iter().find(|row| is(&row.id));
    let ring = ring.map(|row| format!("hole {}", units.drill(row.hole)));
    let bus = catalog.buses.iter().find(|row| is(&row.id));
    let bus = bus.map(|row| format!("{} studs {}", row.studs, row.stud));
    cable.or(lug).or(clamp).or(passage).or(ring).or(bus)
}
