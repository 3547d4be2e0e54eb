//! The closed sets of words of a job file.

pub use crate::catalog::Access;
use crate::file::words;

words! {
    /// What a leg runs past.
    pub enum HazardKind as "a kind of hazard" {
        /// Exhaust, turbocharger, heater.
        HotSurface = "hot surface",
        /// Propshaft, pulleys, steering, suspension.
        MovingPart = "moving part",
        /// Fuel line, tank or filter.
        FuelLine = "fuel line",
        /// Brake line.
        BrakeLine = "brake line",
        /// Stones and water thrown up from the road.
        RoadDebris = "road debris",
        /// A sharp edge or a place that chafes.
        Chafe = "chafe",
    }
}

words! {
    /// What a panel is made of.
    pub enum PanelMaterial as "a panel material" {
        /// Sheet steel.
        Steel = "steel",
        /// Sheet aluminium.
        Aluminium = "aluminium",
        /// Plywood.
        Plywood = "plywood",
        /// Glass-fibre laminate.
        Laminate = "laminate",
    }
}

words! {
    /// How a lead goes through a panel.
    pub enum Passage as "a way through a panel" {
        /// By an insulated stud; the lead is two cables.
        FeedThrough = "feed-through",
        /// Uncut, through a hole with a rubber ring.
        Grommet = "grommet",
    }
}

words! {
    /// What a battery is made of.
    pub enum Chemistry as "a battery chemistry" {
        /// Vented lead-acid.
        Flooded = "flooded",
        /// Valve-regulated lead-acid, absorbed glass mat.
        AbsorbedGlassMat = "absorbed glass mat",
        /// Valve-regulated lead-acid, gel.
        Gel = "gel",
        /// Lithium iron phosphate.
        LithiumIronPhosphate = "lithium iron phosphate",
    }
}

words! {
    /// The test behind a cold-crank rating.
    pub enum CrankStandard as "a cold-crank standard" {
        /// 30 s at -18 C to 1.2 V a cell.
        SaeJ537 = "SAE J537",
        /// 10 s at -18 C to 1.25 V a cell.
        En50342 = "EN 50342-1",
    }
}

words! {
    /// How a load draws current.
    pub enum LoadKind as "a kind of load" {
        /// The same current whatever the voltage.
        ConstantCurrent = "constant current",
        /// The same power whatever the voltage, so more current at less voltage.
        ConstantPower = "constant power",
        /// A resistance: lamps, heaters.
        Resistance = "resistance",
        /// A starter motor, with a running and a locked-rotor current.
        Starter = "starter",
    }
}

words! {
    /// What a converter is for.
    pub enum ConverterKind as "a kind of converter" {
        /// Feeds loads, and is always on.
        Supply = "supply",
        /// Charges a battery, and is on while the engine runs.
        Charger = "charger",
    }
}

words! {
    /// How long a load runs.
    pub enum Duty as "a duty" {
        /// Hours.
        Continuous = "continuous",
        /// Minutes, with pauses.
        Intermittent = "intermittent",
    }
}

words! {
    /// How much voltage a load may lose.
    pub enum Importance as "a word for importance" {
        /// Must have nearly the full voltage.
        Critical = "critical",
        /// May lose more.
        Ordinary = "ordinary",
    }
}

words! {
    /// Which end of a lead moves with the engine.
    pub enum MovingEnd as "a word for the moving end" {
        /// Both ends are fixed to the same body.
        None = "none",
        /// The first end moves.
        From = "from",
        /// The last end moves.
        To = "to",
    }
}

words! {
    /// What the engine does in a state.
    pub enum Engine as "what the engine does" {
        /// Standing.
        Off = "off",
        /// Turned by the starter, which draws its running current.
        Cranking = "cranking",
        /// The starter's first instant, with the rotor locked.
        Locked = "locked",
        /// Running, so that alternators charge.
        Running = "running",
    }
}

words! {
    /// How fast a running engine turns.
    pub enum Speed as "an engine speed" {
        /// Fast enough for alternators to give all they can.
        Cruise = "cruise",
        /// Idling, so that alternators give less.
        Idle = "idle",
    }
}

words! {
    /// Which end of the climate a state is at.
    pub enum Season as "a season" {
        /// The cold end.
        Cold = "cold",
        /// The hot end.
        Hot = "hot",
    }
}
