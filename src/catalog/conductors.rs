//! Cable and what ends it.

use super::part::part;
use crate::file::words;
use crate::quantity::{
    ConductorSize, Length, MassPerLength, ResistancePerLength, Temperature, Thread,
};

words! {
    /// What a conductor is made of.
    pub enum ConductorMaterial as "a conductor material" {
        /// Plain annealed copper.
        Copper = "copper",
        /// Tin-plated annealed copper.
        TinnedCopper = "tinned copper",
        /// Aluminium with a copper skin.
        CladAluminium = "copper-clad aluminium",
    }
}

words! {
    /// What the insulation of a cable is made of.
    pub enum Insulation as "an insulation material" {
        /// Polyvinyl chloride.
        Pvc = "PVC",
        /// Crosslinked polyethylene.
        CrosslinkedPolyethylene = "crosslinked polyethylene",
        /// Ethylene propylene rubber.
        EthylenePropylene = "ethylene propylene rubber",
        /// Natural or chloroprene rubber.
        Rubber = "rubber",
        /// Silicone rubber.
        Silicone = "silicone rubber",
    }
}

words! {
    /// Insulation and sleeve colours.
    pub enum Colour as "a colour" {
        /// Positive by usual practice.
        Red = "red",
        /// Negative by usual practice.
        Black = "black",
        /// Negative on small craft by usual practice.
        Yellow = "yellow",
        /// Any circuit.
        Blue = "blue",
        /// Any circuit.
        White = "white",
        /// Any circuit.
        Green = "green",
    }
}

words! {
    /// How the palm of a lug stands to its barrel.
    pub enum LugAngle as "a lug angle" {
        /// In line.
        Straight = "straight",
        /// Square to the barrel.
        RightAngle = "right-angle",
    }
}

part! {
    /// Insulated conductor sold by length.
    pub struct Cable as "cable" {
        /// The family of cables that differ only in size, such as `fine-strand`.
        family: String,
        /// The size it is sold by.
        size: ConductorSize,
        /// Stranding class of IEC 60228: 2 stiff, 5 flexible, 6 extra flexible. AWG cable takes the class whose strands are nearest.
        conductor_class: u32,
        /// What the conductor is made of.
        material: ConductorMaterial,
        /// What its insulation is made of.
        insulation: Insulation,
        /// Largest resistance at 20 C that its standard allows.
        max_resistance: ResistancePerLength,
        /// Outer diameter over the insulation.
        outer_diameter: Length,
        /// Highest continuous conductor temperature.
        rating: Temperature,
        /// Smallest inside bend radius when fixed in place.
        min_bend_radius: Length,
        /// Mass of one metre.
        mass_per_length: MassPerLength,
        /// Colours it is sold in.
        colours: Vec<Colour>,
    }
}

part! {
    /// Crimped cable end for a stud.
    pub struct Lug as "lug" {
        /// Conductor sizes the barrel is made for.
        sizes: Vec<ConductorSize>,
        /// Stranding classes the barrel is made for.
        classes: Vec<u32>,
        /// Conductor materials the barrel may be crimped on.
        materials: Vec<ConductorMaterial>,
        /// Stud it goes on.
        stud: Thread,
        /// Straight or right-angle.
        angle: LugAngle,
        /// Inner diameter of the barrel.
        barrel_inner: Length,
        /// Outer diameter of the barrel.
        barrel_outer: Length,
        /// Width of the palm.
        palm_width: Length,
        /// Insulation to strip.
        strip: Length,
        /// Id of the die that crimps it.
        die: String,
        /// How many crimps the barrel takes.
        crimps: u32,
    }
}

part! {
    /// Lined heat-shrink sleeve, a piece of fixed length that covers one crimp.
    pub struct Sleeve as "sleeve" {
        /// Bore as supplied.
        supplied: Length,
        /// Bore when fully shrunk.
        recovered: Length,
        /// Length of one piece.
        length: Length,
        /// Highest continuous temperature.
        rating: Temperature,
        /// Colours it is sold in.
        colours: Vec<Colour>,
    }
}

part! {
    /// Insulating cap over a lug on its stud.
    pub struct Boot as "boot" {
        /// Smallest cable it grips.
        min_cable: Length,
        /// Largest cable that enters.
        max_cable: Length,
        /// Widest lug palm that fits inside.
        max_palm: Length,
        /// Colour, which shows the polarity.
        colour: Colour,
    }
}
