//! The job file as written.

use super::charger_file::{AlternatorFile, ConverterFile};
use super::protect::Protect;
use super::rules_file::RulesFile;
use super::spares_file::SparesFile;
use super::units::Units;
use super::variant_file::VariantFile;
use super::words::{
    Access, Chemistry, CrankStandard, Duty, Engine, HazardKind, Importance, LoadKind, MovingEnd,
    PanelMaterial, Passage, Season, Speed,
};
use crate::catalog::{Colour, Polarity, PostKind, Setting};
use crate::diagnostic::Spanned;
use crate::file::{Choice, table};
use crate::quantity::{
    Capacitance, Charge, ConductorSize, Currency, Current, Duration, Length, Mass, Power, Ratio,
    Resistance, Temperature, Thread, Voltage,
};

/// A name with its place in the file.
pub type Name = Spanned<String>;

table! {
    /// A job: one vehicle or boat and the wiring to be done on it.
    pub struct JobFile as "job" {
        /// What the job is, in a line.
        title: String,
        /// Who took the measurements, for quotes.
        measured_by: Option<String>,
        /// Units that documents show.
        units: Units = "metric",
        /// Currency of the bill.
        currency: Currency = "EUR",
        /// Nominal voltage of the system: 12, 24, 36 or 48 V.
        system_voltage: Spanned<Voltage>,
        /// Which rules hold.
        setting: Setting,
        /// The coldest and the hottest day.
        climate: ClimateFile,
        /// Rules of the setting that this job tightens; loosening one is shown on every document.
        rules: Option<RulesFile>,
        /// What the roadside spares kit may be.
        spares: Option<SparesFile>,
        /// Regions that legs lie in.
        space: Vec<SpaceFile>,
        /// Named points where something is mounted or a cable turns.
        place: Vec<PlaceFile>,
        /// Walls and floors that legs cross.
        panel: Vec<PanelFile>,
        /// Measured stretches between places.
        leg: Vec<LegFile>,
        /// Batteries.
        battery: Vec<BatteryFile>,
        /// Alternators and other regulated chargers.
        alternator: Vec<AlternatorFile>,
        /// Converters of one direct voltage to another, battery-to-battery chargers among them.
        converter: Vec<ConverterFile>,
        /// Loads.
        load: Vec<LoadFile>,
        /// Buses.
        bus: Vec<BusFile>,
        /// Master switches, contactors and connectors.
        device: Vec<DeviceFile>,
        /// Points of the body or engine block where leads bolt on.
        chassis: Vec<ChassisFile>,
        /// Metal that already joins two chassis points.
        bond: Vec<BondFile>,
        /// Leads to be made.
        lead: Vec<LeadFile>,
        /// Operating states to be judged; the usual ones are made when none is given.
        state: Vec<StateFile>,
        /// The same job with something changed, to be set beside it.
        variant: Vec<VariantFile>,
    }
}

table! {
    /// The coldest and the hottest day.
    pub struct ClimateFile as "climate" {
        /// Coldest day on which the engine must start.
        cold: Temperature,
        /// Hottest day.
        hot: Temperature,
    }
}

table! {
    /// A region with its own surroundings.
    pub struct SpaceFile as "space" {
        /// Its name.
        name: Name,
        /// Temperature of the air round the cable on the hottest day at work.
        temperature: Temperature,
        /// Whether it is an engine space.
        engine_space: bool = "false",
        /// Whether people sit or sleep in it.
        occupied: bool = "false",
        /// Whether it gets wet.
        wet: bool = "false",
        /// Whether fuel vapour or battery gas may gather in it, so that devices must be ignition protected.
        vapour: bool = "false",
    }
}

table! {
    /// A named point.
    pub struct PlaceFile as "place" {
        /// Its name.
        name: Name,
        /// The space it lies in.
        space: Name,
        /// How far it is from the back of the vehicle, or from the stern; with the two keys below it lets the layout be drawn, and legs be checked.
        from_back: Option<Spanned<Length>>,
        /// How far it is from the left side, or from the port side.
        from_left: Option<Spanned<Length>>,
        /// How high it is above the ground, or above the keel.
        height: Option<Spanned<Length>>,
    }
}

table! {
    /// A wall or floor.
    pub struct PanelFile as "panel" {
        /// Its name.
        name: Name,
        /// Its thickness.
        thickness: Length,
        /// What it is made of.
        material: PanelMaterial,
        /// How leads go through it.
        passage: Passage = "feed-through",
    }
}

table! {
    /// Something dangerous beside a leg.
    pub struct HazardFile as "hazard" {
        /// What it is.
        kind: HazardKind,
        /// Smallest distance between it and the cable along the leg.
        gap: Option<Length>,
    }
}

table! {
    /// A measured stretch between two places.
    pub struct LegFile as "leg" {
        /// The place at one end.
        from: Name,
        /// The place at the other end.
        to: Name,
        /// Its length, measured along the way the cable will lie.
        length: Spanned<Length>,
        /// The space it lies in; where it crosses a panel, the hotter side.
        space: Name,
        /// How well it can be reached.
        access: Access = "easy",
        /// The panel it crosses.
        panel: Option<Name>,
        /// Distance of the panel from the first place; the middle when absent.
        panel_at: Option<Spanned<Length>>,
        /// How many bends it has.
        bends: u32 = "0",
        /// Tightest bend on it.
        bend_radius: Option<Length>,
        /// Whether a conduit, duct or trough encloses the cable all along.
        sheathed: bool = "false",
        /// What it runs past.
        hazard: Vec<HazardFile>,
    }
}

table! {
    /// A battery. Its terminals are `NAME +` and `NAME -`.
    pub struct BatteryFile as "battery" {
        /// Its name.
        name: Name,
        /// Where it stands.
        place: Name,
        /// What it is made of.
        chemistry: Chemistry,
        /// Nominal voltage.
        voltage: Voltage,
        /// Capacity at the 20 h rate.
        capacity: Charge,
        /// Cold-crank rating.
        cold_crank: Option<Current>,
        /// The test behind the cold-crank rating.
        crank_standard: CrankStandard = "SAE J537",
        /// Internal resistance, measured or from the maker; wins over the cold-crank rating.
        internal_resistance: Option<Resistance>,
        /// Largest short-circuit current, from the maker; wins over one worked out from resistance.
        short_circuit: Option<Current>,
        /// State of charge.
        charge: Ratio = "90 %",
        /// How leads go on.
        post: PostKind = "tapered",
        /// Thread of the stud when the posts are studs.
        stud: Option<Thread>,
        /// Length of the case.
        length: Option<Length>,
        /// Width of the case.
        width: Option<Length>,
        /// Height with terminals.
        height: Option<Length>,
        /// Mass.
        mass: Option<Mass>,
        /// The box it goes in: `auto`, `none` or a part id.
        enclosure: String = "none",
        /// Length of hose from the box's vent to the open air.
        vent_hose: Option<Length>,
    }
}

table! {
    /// A load. Its terminals are `NAME +` and, unless its case is the return, `NAME -`.
    pub struct LoadFile as "load" {
        /// Its name.
        name: Name,
        /// Where it sits.
        place: Name,
        /// How it draws current.
        kind: LoadKind,
        /// Current, for constant current; running current, for a starter.
        current: Option<Current>,
        /// Locked-rotor current of a starter.
        locked: Option<Current>,
        /// Power, for constant power.
        power: Option<Power>,
        /// Resistance, for a resistance.
        resistance: Option<Resistance>,
        /// How long it runs.
        duty: Duty = "continuous",
        /// Longest run of an intermittent load, or longest crank of a starter.
        longest: Option<Duration>,
        /// Rest between two runs of an intermittent load, which then repeat without end; of a starter, between two tries.
        rest: Option<Duration>,
        /// Current when it is switched on.
        inrush: Option<Current>,
        /// How long that lasts.
        inrush_time: Option<Duration>,
        /// Capacitance at its input, as inverters and motor controllers have.
        capacitance: Option<Capacitance>,
        /// Resistor through which that is charged before the load is joined on.
        precharge: Option<Resistance>,
        /// Whether it resets or fails when the supply dips; then `least` must be given.
        sensitive: bool = "false",
        /// Least voltage at its terminals in any state in which it is on.
        least: Option<Voltage>,
        /// How much voltage it may lose.
        importance: Importance = "ordinary",
        /// Thread of its terminals.
        stud: Thread,
        /// The chassis point that its case is bolted to, when the case is the return.
        case: Option<Name>,
    }
}

table! {
    /// A bus: one terminal, with the bus's name.
    pub struct BusFile as "bus" {
        /// Its name.
        name: Name,
        /// Where it is mounted.
        place: Name,
        /// Positive or negative.
        polarity: Polarity,
        /// `auto` or the id of a bus in the catalog.
        part: Choice<Spanned<String>> = "auto",
    }
}

table! {
    /// A switch, contactor or connector. Its terminals are `NAME in` and `NAME out`.
    pub struct DeviceFile as "device" {
        /// Its name.
        name: Name,
        /// Where it is mounted.
        place: Name,
        /// Id of a switch, contactor or connector in the catalog.
        part: Spanned<String>,
        /// Whether it is the master switch, or one of them, that stops everything.
        master: bool = "false",
    }
}

table! {
    /// A point of the body or engine block: one terminal, with the point's name.
    pub struct ChassisFile as "chassis point" {
        /// Its name.
        name: Name,
        /// Where it is.
        place: Name,
        /// Thread of its stud or bolt.
        stud: Thread,
    }
}

table! {
    /// Metal that already joins two chassis points.
    pub struct BondFile as "bond" {
        /// One point.
        from: Name,
        /// The other point.
        to: Name,
        /// Its resistance, measured.
        resistance: Resistance,
    }
}

table! {
    /// A lead to be made.
    pub struct LeadFile as "lead" {
        /// Its name.
        name: Name,
        /// The terminal it starts at; protection sits near this end.
        from: Name,
        /// The terminal it ends at.
        to: Name,
        /// Places it must pass, in order.
        via: Vec<Name>,
        /// Places it must not pass.
        avoid: Vec<Name>,
        /// `auto` or a conductor size.
        size: Choice<ConductorSize> = "auto",
        /// `auto` or a cable family of the catalog.
        cable: Choice<Spanned<String>> = "auto",
        /// Colour of the insulation; red for positive and black for negative when absent.
        colour: Option<Colour>,
        /// `auto`, `none`, a rating, or the id of a breaker or fuse. `auto` protects positive leads that start at a source or bus.
        protect: Spanned<Protect> = "auto",
        /// The place of the protection; the lead's first place when absent.
        protect_at: Option<Name>,
        /// Length of cable from the source to the protection; the setting's link length when absent.
        link: Option<Length>,
        /// Which end moves with the engine.
        moves: MovingEnd = "none",
        /// Whether it gets clamps of its own, apart from the leads that run the same way.
        own_clamps: bool = "false",
    }
}

table! {
    /// An operating state.
    pub struct StateFile as "state" {
        /// Its name.
        name: Name,
        /// What the engine does.
        engine: Engine,
        /// Cold or hot.
        season: Season,
        /// How fast a running engine turns.
        speed: Speed = "cruise",
        /// Batteries that are dead: they give nothing and take nothing.
        dead: Vec<Name>,
        /// Loads that are on. Starters follow the engine and need not be named.
        loads: Vec<Name>,
        /// State of charge of all batteries in this state; each battery's own when absent.
        charge: Option<Ratio>,
    }
}
