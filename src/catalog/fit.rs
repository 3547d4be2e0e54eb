//! Whether one part goes with another.

use super::{Cable, Catalog, Clamp, Lug, Sleeve};
use crate::quantity::{Length, Thread};

impl Catalog {
    /// The studs that a cable can go on: those of every lug that fits it. None for a cable that no
    /// lug fits.
    pub fn studs_for(&self, cable: &Cable) -> Vec<Thread> {
        let lugs = self.lugs.iter().filter(|lug| lug.fits(cable));
        let mut studs: Vec<Thread> = lugs.map(|lug| lug.stud).collect();
        studs.sort();
        studs.dedup();
        studs
    }
}

impl Lug {
    /// Whether the barrel is made for the cable's size, strands and metal.
    pub fn fits(&self, cable: &Cable) -> bool {
        self.sizes.contains(&cable.size)
            && self.classes.contains(&cable.conductor_class)
            && self.materials.contains(&cable.material)
    }

    /// What stands against crimping it on the cable.
    pub fn misfits(&self, cable: &Cable) -> Vec<String> {
        let mut reasons = Vec::new();
        if !self.sizes.contains(&cable.size) {
            let sizes: Vec<String> = self.sizes.iter().map(ToString::to_string).collect();
            reasons.push(format!(
                "made for {}, not {}",
                sizes.join(" or "),
                cable.size
            ));
        }
        if !self.classes.contains(&cable.conductor_class) {
            let class = cable.conductor_class;
            reasons.push(format!("its barrel is not made for class {class} strands"));
        }
        if !self.materials.contains(&cable.material) {
            reasons.push(format!("it may not be crimped on {}", cable.material));
        }
        reasons
    }
}

impl Sleeve {
    /// Whether it slides over what it must and shrinks tight on the cable.
    pub fn covers(&self, barrel: Length, cable: Length) -> bool {
        self.supplied > barrel.max(cable) && self.recovered < cable
    }
}

impl Clamp {
    /// Whether it grips a cable or bundle of this diameter.
    pub fn grips(&self, diameter: Length) -> bool {
        self.min_diameter <= diameter && diameter <= self.max_diameter
    }
}
