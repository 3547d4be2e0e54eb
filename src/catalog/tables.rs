//! Reference tables: ampacity, opening-time curves, joints and holes.

use super::basis::Basis;
use super::conductors::ConductorMaterial;
use super::mounting::StudMaterial;
use crate::diagnostic::Spanned;
use crate::file::table;
use crate::quantity::{
    Area, ConductorSize, Current, Duration, Length, Ratio, Temperature, Thread, Torque, Voltage,
    VolumetricHeat,
};

table! {
    /// Allowed currents of one conductor size.
    pub struct AmpacityRow as "ampacity row" {
        /// The size.
        size: ConductorSize,
        /// Allowed current for each insulation rating of the table, in the same order.
        currents: Vec<Current>,
    }
}

table! {
    /// Reduction for conductors bundled together.
    pub struct BundleRow as "bundle row" {
        /// Fewest current-carrying conductors for which the row holds.
        from: u32,
        /// Part of the table's current that remains.
        factor: Ratio,
    }
}

table! {
    /// A table of allowed currents.
    pub struct AmpacityTable as "ampacity table" {
        /// Its name, used by the settings.
        name: String,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
        /// Ambient temperature the table is for.
        ambient: Temperature,
        /// Insulation ratings, rising.
        ratings: Vec<Temperature>,
        /// Rows, smallest size first.
        row: Vec<AmpacityRow>,
        /// Ambient temperature that the factors for engine spaces are for.
        engine_ambient: Temperature,
        /// Part that remains in an engine space, for each rating.
        engine_factors: Vec<Ratio>,
        /// Reductions for bundles, fewest first.
        bundle: Vec<BundleRow>,
    }
}

table! {
    /// One published point of an opening-time band.
    pub struct CurvePoint as "curve point" {
        /// Current in percent of the rating.
        percent: Ratio,
        /// It must hold at least so long; absent where no lower limit is published.
        at_least: Option<Duration>,
        /// It must open within so long; absent where it need not open.
        at_most: Option<Duration>,
    }
}

table! {
    /// What a device carries in air of one temperature.
    pub struct RatedAt as "rating at a temperature" {
        /// Temperature of the air round it.
        temperature: Temperature,
        /// Part of its rating that it carries there.
        carries: Ratio,
    }
}

table! {
    /// How the rating of a type of protection changes with the temperature of the air.
    pub struct Rerating as "rerating" {
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
        /// Points of rising temperature.
        point: Vec<RatedAt>,
    }
}

table! {
    /// The band of opening times of one type of protection.
    pub struct Curve as "curve" {
        /// Its name, used by breakers and fuses.
        name: Spanned<String>,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
        /// Quickest that its contacts or element can part, whatever the current; judgement.
        quickest: Duration,
        /// How its rating changes with the temperature of the air; not at all when absent.
        rerating: Option<Rerating>,
        /// Points of rising current.
        point: Vec<CurvePoint>,
    }
}

table! {
    /// A stud that carries current, by thread and material.
    pub struct StudRow as "stud row" {
        /// Its thread.
        thread: Thread,
        /// Its material.
        material: StudMaterial,
        /// Tightening torque of its nut.
        torque: Torque,
        /// Continuous current through the stud, or through the clamped joint for steel.
        current: Current,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// Wrench and clearance hole of a thread.
    pub struct ThreadRow as "thread row" {
        /// The thread.
        thread: Thread,
        /// Width across the flats of its nut.
        across_flats: Length,
        /// Clearance hole, medium series.
        hole: Length,
        /// Name of the wrench, such as `13 mm` or `9/16 in`.
        wrench: String,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// How a conductor material carries current and heats.
    pub struct MaterialRow as "material row" {
        /// The material.
        material: ConductorMaterial,
        /// Reciprocal of the temperature coefficient at 0 C: R(T) = R20 (beta + T) / (beta + 20).
        beta: Temperature,
        /// K of IEC 60949 in A s^0.5 / mm2: short-time heating from T1 to T2 takes I^2 t = K^2 S^2 ln((beta + T2) / (beta + T1)).
        heating_constant: u32,
        /// Heat that a volume of it takes up for each degree, Qc of IEC 60949.
        volumetric_heat: VolumetricHeat,
        /// Part of the ampacity of copper of the same area.
        ampacity_factor: Ratio,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

table! {
    /// Open-circuit voltage at one state of charge.
    pub struct RestPoint as "rest point" {
        /// State of charge.
        charge: Ratio,
        /// Open-circuit voltage of a battery of nominally 12 V.
        voltage: Voltage,
    }
}

table! {
    /// Open-circuit voltage and resistance of a kind of battery.
    pub struct ChemistryRow as "chemistry row" {
        /// The kind, as in a job file: `flooded`, `absorbed glass mat`, `gel`, `lithium iron phosphate`.
        chemistry: String,
        /// Open-circuit voltages at rest, of rising charge; straight lines join them.
        rest: Vec<RestPoint>,
        /// Temperature at which those voltages hold.
        rest_at: Temperature,
        /// Cells in series in a battery of nominally 12 V.
        cells: u32,
        /// Rise of the open-circuit voltage of one cell for each kelvin.
        rise: Voltage,
        /// Voltage lost at the cold-crank current by SAE J537, of a battery of nominally 12 V.
        sae_loss: Voltage,
        /// Voltage lost at the cold-crank current by EN 50342-1, of a battery of nominally 12 V.
        en_loss: Voltage,
        /// Temperature at which those losses hold.
        cold: Temperature,
        /// Temperature from which the resistance no longer falls.
        warm: Temperature,
        /// Part of the cold resistance that remains when warm.
        warm_resistance: Ratio,
        /// Publication and clause.
        citation: String,
        /// How far it can be trusted.
        basis: Basis,
    }
}

impl MaterialRow {
    /// How long a current may flow until the conductor, losing no heat, gets from one temperature
    /// to another: t = (K S / I)² ln((beta + T2) / (beta + T1)), IEC 60949 and IEC 60364-5-54.
    /// Nothing where it is that hot already.
    pub fn heats_in(
        &self,
        area: Area,
        current: Current,
        from: Temperature,
        to: Temperature,
    ) -> Duration {
        let rise = ((self.beta.c() + to.c()) / (self.beta.c() + from.c()))
            .ln()
            .max(0.0);
        let strength = f64::from(self.heating_constant) * area.mm2();
        Duration::from_s((strength / current.a()).powi(2) * rise)
    }
}
