//! The rules of a setting, each with its source.

use super::basis::Cited;
use crate::file::{table, words};
use crate::quantity::{
    ConductorSize, Current, Duration, Length, Ratio, Resistance, Temperature,
    TemperatureDifference, Voltage,
};

words! {
    /// Where the wiring is, which decides the rules.
    pub enum Setting as "a setting" {
        /// Cars, pickups, vans and trailers.
        RoadVehicle = "road vehicle",
        /// Boats below the size that survey rules treat.
        SmallCraft = "small craft",
        /// Vehicles built to sporting rules.
        Competition = "competition",
    }
}

table! {
    /// The rules of one setting. Every row carries its citation and basis.
    pub struct RuleSet as "setting" {
        /// Which setting.
        setting: Setting,
        /// Name of the ampacity table.
        ampacity_table: String,
        /// Cable families that an `auto` cable may come from.
        auto_families: Vec<String>,
        /// Largest distance between supports.
        support_spacing: Cited<Length>,
        /// Largest distance between supports where a lead from a battery is among those held.
        support_spacing_battery: Cited<Length>,
        /// Largest distance from an end to the first support.
        support_near_end: Cited<Length>,
        /// Largest distance from a bend or panel to the support on each side.
        support_near_bend: Cited<Length>,
        /// Largest distance along the lead from its source to its protection.
        protection_distance: Cited<Length>,
        /// The same where the lead is sheathed or enclosed all the way.
        protection_distance_sheathed: Cited<Length>,
        /// Largest rating of protection, in percent of the lead's ampacity.
        protection_most: Cited<Ratio>,
        /// Smallest rating of protection, in percent of the continuous current.
        protection_least: Cited<Ratio>,
        /// Whether leads to a starter may go without protection.
        starter_unprotected: Cited<bool>,
        /// Whether breakers must be reset by hand.
        manual_reset_only: Cited<bool>,
        /// Most lugs on one stud.
        lugs_per_stud: Cited<u32>,
        /// Studs a bus keeps free for later.
        spare_studs: Cited<u32>,
        /// Largest voltage drop out and back of a critical load, in percent of the system voltage.
        drop_critical: Cited<Ratio>,
        /// Largest voltage drop out and back of any other load.
        drop_ordinary: Cited<Ratio>,
        /// Largest voltage drop of an ordinary load while any load of short runs (winch, windlass) is on.
        drop_intermittent: Cited<Ratio>,
        /// Largest voltage lost out and back from an alternator or converter to a battery that it charges, in percent of the system voltage.
        drop_charging: Cited<Ratio>,
        /// Largest drop in the positive lead of a starter while it cranks, for 12 V; twice that at 24 V.
        cranking_drop_positive: Cited<Voltage>,
        /// Largest drop in the return of a starter while it cranks, for 12 V.
        cranking_drop_return: Cited<Voltage>,
        /// Least voltage at the battery while cranking, for each 2 V lead-acid cell or each sixth of 12 V.
        cranking_least_cell: Cited<Voltage>,
        /// Smallest conductor.
        least_size: Cited<ConductorSize>,
        /// Whether copper-clad aluminium is allowed.
        clad_aluminium: Cited<bool>,
        /// Smallest distance to a hot surface.
        gap_hot_surface: Cited<Length>,
        /// Smallest distance to a moving part.
        gap_moving_part: Cited<Length>,
        /// Smallest distance to a fuel line.
        gap_fuel_line: Cited<Length>,
        /// Smallest distance to a brake line.
        gap_brake_line: Cited<Length>,
        /// Whether the master switch must cut battery and alternator off every load, and stop the engine.
        master_switch_stops: Cited<bool>,
        /// Largest current through metal that joins two chassis points; any when absent.
        bond_current: Option<Cited<Current>>,
        /// Resistance of one crimp with its stud joint, sound and clean.
        joint_resistance: Cited<Resistance>,
        /// How far a cable may be longer or shorter than its cut length, in percent.
        tolerance_length: Cited<Ratio>,
        /// How far a conductor's resistance may be off, in percent.
        tolerance_conductor: Cited<Ratio>,
        /// How far a crimp's or stud's resistance may be off, in percent.
        tolerance_joint: Cited<Ratio>,
        /// How far the current, power or resistance of a load may be off, in percent; a starter's currents too.
        tolerance_load: Cited<Ratio>,
        /// How far a battery's charge may be off, in percent of its capacity.
        tolerance_charge: Cited<Ratio>,
        /// How far a battery's internal resistance may be off, in percent.
        tolerance_battery: Cited<Ratio>,
        /// How far a regulated voltage may be off, in percent.
        tolerance_regulation: Cited<Ratio>,
        /// How far temperatures may be off.
        tolerance_temperature: Cited<TemperatureDifference>,
        /// Slack at each end.
        end_slack: Cited<Length>,
        /// Further length where an end moves with the engine.
        flex_loop: Cited<Length>,
        /// Length kept at each end for making the end anew.
        remake_allowance: Cited<Length>,
        /// Length that a lug adds beyond the end of the cable, taken off the cut at each end.
        lug_take_up: Cited<Length>,
        /// Measuring tolerance, in percent of the routed length.
        measuring_tolerance: Cited<Ratio>,
        /// Lengths are cut to the next multiple of this in a job that shows millimetres.
        cutting_step: Cited<Length>,
        /// Lengths are cut to the next multiple of this in a job that shows inches.
        cutting_step_imperial: Cited<Length>,
        /// Length of a link between a source stud and protection at the same place.
        link_length: Cited<Length>,
        /// Longest crank at a time, where the starter's own is not given.
        crank_time: Cited<Duration>,
        /// How many tries to crank follow each other.
        crank_tries: Cited<u32>,
        /// Rest between two tries, where the starter's own is not given.
        crank_rest: Cited<Duration>,
        /// How long a starter draws its locked-rotor current.
        locked_time: Cited<Duration>,
        /// Hottest that a conductor may get in a fault.
        fault_limit: Cited<Temperature>,
        /// Resistance of an aged battery, in percent of its own; for the smallest fault current.
        aged_resistance: Cited<Ratio>,
        /// Resistance of the fault itself, where a lead touches the body; for the smallest fault current.
        fault_contact: Cited<Resistance>,
        /// Largest limit of an alternator or charger, in percent of a lead's ampacity, that may feed the lead without protection.
        self_limiting: Cited<Ratio>,
        /// Whether the device nearest to a fault must open before those nearer to the source.
        selectivity: Cited<bool>,
        /// Largest device that may stand in for the smallest that will do, in percent of its rating, for losing less voltage or costing less.
        device_step_up: Cited<Ratio>,
        /// Longest time that a pre-charge may take.
        precharge_time: Cited<Duration>,
        /// Current that a pre-charge resistor in a cure lets through at first.
        precharge_current: Cited<Current>,
        /// How far above its rating the model may have a conductor that the table allows.
        model_doubt: Cited<TemperatureDifference>,
        /// Free height that a battery box must keep over the battery's terminals.
        terminal_headroom: Cited<Length>,
        /// Whether every positive end outside a cover needs a boot; kept as common practice when absent.
        live_ends_covered: Option<Cited<bool>>,
        /// Whether a battery in a box must be held down; kept as common practice when absent.
        battery_held: Option<Cited<bool>>,
        /// Whether the gas of a lead-acid battery in a box must be led outside; kept as common practice when absent.
        battery_vented: Option<Cited<bool>>,
        /// Whether a cable needs sleeving past sharp edges, thrown stones and hot surfaces; kept as common practice when absent.
        chafe_guarded: Option<Cited<bool>>,
    }
}
