//! Boxes, covers, marks, consumables and tools.

use super::part::part;
use crate::file::words;
use crate::quantity::{Length, Temperature, Torque};

words! {
    /// What a sleeving guards against.
    pub enum SleevingKind as "a kind of sleeving" {
        /// Chafe and stones.
        Abrasion = "abrasion",
        /// Radiant heat.
        Heat = "heat",
    }
}

words! {
    /// What a consumable is for.
    pub enum ConsumableUse as "a use of a consumable" {
        /// Seals holes against water.
        Sealant = "sealant",
        /// Guards bare metal round a hole against rust.
        Paint = "paint",
        /// Cleans contact faces.
        Cleaner = "cleaner",
        /// Keeps contact faces from corroding.
        ContactProtection = "contact protection",
        /// Winds over bare or chafed places.
        Tape = "insulating tape",
        /// Ties a cable up where a clamp is gone.
        Tie = "tie",
    }
}

words! {
    /// What a tool does.
    pub enum ToolUse as "a use of a tool" {
        /// Presses dies.
        Press = "press",
        /// Cuts cable square.
        Cutter = "cutter",
        /// Strips insulation.
        Stripper = "stripper",
        /// Shrinks sleeves.
        HotAir = "hot air",
        /// Tightens nuts to a torque.
        TorqueWrench = "torque wrench",
        /// Turns a hexagon.
        Wrench = "wrench",
        /// Drives holes.
        Drill = "drill",
        /// A twist drill or a step drill of one diameter.
        DrillBit = "drill bit",
        /// Smooths an edge.
        Deburrer = "deburrer",
        /// Measures volts, amps or ohms.
        Meter = "meter",
        /// Measures amps round a cable, without cutting in.
        ClampMeter = "clamp meter",
        /// Measures insulation resistance.
        InsulationTester = "insulation tester",
        /// Measures length.
        Tape = "tape measure",
        /// Sets rivet nuts.
        RivetNutSetter = "rivet nut setter",
        /// Drives screws.
        Screwdriver = "screwdriver",
        /// Guards the eyes.
        EyeProtection = "eye protection",
        /// Holds a raised vehicle.
        Stand = "stand",
        /// Cleans contact faces.
        Brush = "brush",
    }
}

part! {
    /// Battery box with its hold-down.
    pub struct Enclosure as "enclosure" {
        /// Inside length.
        inner_length: Length,
        /// Inside width.
        inner_width: Length,
        /// Inside height.
        inner_height: Length,
        /// Whether it has a vent spigot.
        vented: bool,
        /// Bore of the vent spigot.
        vent_bore: Option<Length>,
        /// Whether a hold-down comes with it.
        hold_down: bool,
    }
}

part! {
    /// Vent hose sold by length.
    pub struct Vent as "vent hose" {
        /// Bore.
        bore: Length,
    }
}

part! {
    /// Sleeving sold by length, pulled over a lead.
    pub struct Sleeving as "sleeving" {
        /// What it guards against.
        kind: SleevingKind,
        /// Smallest cable it suits.
        min_cable: Length,
        /// Largest cable that enters.
        max_cable: Length,
        /// Highest continuous temperature.
        rating: Temperature,
    }
}

part! {
    /// Marker for a lead.
    pub struct Label as "label" {
        /// Smallest cable it suits.
        min_cable: Length,
        /// Largest cable it suits.
        max_cable: Length,
    }
}

part! {
    /// Sealant, paint, cleaner and the like, by the container.
    pub struct Consumable as "consumable" {
        /// What it is for.
        purpose: ConsumableUse,
        /// How many uses (holes, joints) one container gives.
        uses: u32,
    }
}

part! {
    /// Crimping die.
    pub struct Die as "die" {
        /// Code stamped on it and on the lugs it crimps.
        code: String,
        /// Id of the press that takes it.
        press: String,
    }
}

part! {
    /// Hand tool, press or instrument.
    pub struct Tool as "tool" {
        /// What it does.
        purpose: ToolUse,
        /// The hexagon, hole or drill size that it is for, where it has one.
        size: Option<Length>,
        /// Thinnest cable over its insulation that it handles, for cutters and strippers; no limit when absent.
        least_cable: Option<Length>,
        /// Thickest cable over its insulation that it handles; no limit when absent.
        most_cable: Option<Length>,
        /// Smallest torque it sets, for torque wrenches; no limit when absent.
        least_torque: Option<Torque>,
        /// Largest torque it sets; no limit when absent.
        most_torque: Option<Torque>,
    }
}
