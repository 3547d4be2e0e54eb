//! The rules that a job sets for itself, as written.

use crate::file::table;
use crate::quantity::{ConductorSize, Length, Ratio, Resistance, TemperatureDifference, Voltage};

table! {
    /// Rules that this job sets for itself. Every key takes the place of the setting's own row.
    pub struct RulesFile as "rules" {
        /// Largest distance between supports.
        support_spacing: Option<Length>,
        /// Largest distance from an end to the first support.
        support_near_end: Option<Length>,
        /// Largest distance along the lead from its source to its protection.
        protection_distance: Option<Length>,
        /// Largest rating of protection, in percent of the lead's ampacity.
        protection_most: Option<Ratio>,
        /// Smallest rating of protection, in percent of the continuous current.
        protection_least: Option<Ratio>,
        /// Most lugs on one stud.
        lugs_per_stud: Option<u32>,
        /// Studs a bus keeps free for later.
        spare_studs: Option<u32>,
        /// Largest voltage drop of a critical load, in percent of the system voltage.
        drop_critical: Option<Ratio>,
        /// Largest voltage drop of any other load.
        drop_ordinary: Option<Ratio>,
        /// Largest voltage drop of an ordinary load while any load of short runs is on.
        drop_intermittent: Option<Ratio>,
        /// Largest voltage lost on the way from an alternator or converter to a battery that it charges, in percent of the system voltage.
        drop_charging: Option<Ratio>,
        /// Largest drop in the positive lead of a starter while it cranks, for 12 V.
        cranking_drop_positive: Option<Voltage>,
        /// Largest drop in the return of a starter while it cranks, for 12 V.
        cranking_drop_return: Option<Voltage>,
        /// How far a cable may be longer or shorter than its cut length, in percent.
        tolerance_length: Option<Ratio>,
        /// How far a conductor's resistance may be off, in percent.
        tolerance_conductor: Option<Ratio>,
        /// How far a crimp's or stud's resistance may be off, in percent.
        tolerance_joint: Option<Ratio>,
        /// How far the current, power or resistance of a load may be off, in percent; a starter's currents too.
        tolerance_load: Option<Ratio>,
        /// How far a battery's charge may be off, in percent of its capacity.
        tolerance_charge: Option<Ratio>,
        /// How far a battery's internal resistance may be off, in percent.
        tolerance_battery: Option<Ratio>,
        /// How far a regulated voltage may be off, in percent.
        tolerance_regulation: Option<Ratio>,
        /// How far temperatures may be off.
        tolerance_temperature: Option<TemperatureDifference>,
        /// Smallest conductor.
        least_size: Option<ConductorSize>,
        /// Smallest distance to a hot surface.
        gap_hot_surface: Option<Length>,
        /// Smallest distance to a moving part.
        gap_moving_part: Option<Length>,
        /// Smallest distance to a fuel line.
        gap_fuel_line: Option<Length>,
        /// Slack at each end.
        end_slack: Option<Length>,
        /// Measuring tolerance, in percent of the routed length.
        measuring_tolerance: Option<Ratio>,
        /// Resistance of an aged battery, in percent of its own; for the smallest fault current.
        aged_resistance: Option<Ratio>,
        /// Resistance of a fault itself, where a lead touches the body; nothing for a bolted one.
        fault_contact: Option<Resistance>,
        /// Whether the device nearest to a fault must open before those nearer to the source.
        selectivity: Option<bool>,
    }
}
