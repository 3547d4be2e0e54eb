//! Whether one part goes with another.

use std::fmt;

use super::{Cable, Catalog, Clamp, ConductorMaterial, Lug, Sleeve};
use crate::quantity::{ConductorSize, Length, Thread};

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
    pub fn misfits(&self, cable: &Cable) -> impl Iterator<Item = LugMisfit<'_>> {
        let size = (!self.sizes.contains(&cable.size)).then_some(LugMisfit::Size {
            sizes: &self.sizes,
            cable: cable.size,
        });
        let class = cable.conductor_class;
        let class = (!self.classes.contains(&class)).then_some(LugMisfit::Class(class));
        let metal = cable.material;
        let metal = (!self.materials.contains(&metal)).then_some(LugMisfit::Material(metal));
        size.into_iter().chain(class).chain(metal)
    }
}

/// What stands against crimping a lug on a cable.
#[derive(Debug, Clone, Copy)]
pub enum LugMisfit<'a> {
    /// It is made for other sizes.
    Size {
        /// These.
        sizes: &'a [ConductorSize],
        /// The size of the cable.
        cable: ConductorSize,
    },
    /// Its barrel is not made for strands of this class.
    Class(u32),
    /// It is not made for this metal.
    Material(ConductorMaterial),
}

impl fmt::Display for LugMisfit<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Size { sizes, cable } => {
                let sizes: Vec<String> = sizes.iter().map(ToString::to_string).collect();
                write!(f, "made for {}, not {cable}", sizes.join(" or "))
            }
            Self::Class(class) => write!(f, "its barrel is not made for class {class} strands"),
            Self::Material(metal) => write!(f, "it may not be crimped on {metal}"),
        }
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
