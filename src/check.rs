//! Verdicts: every limit that the plan was held against.

use serde::Serialize;

use crate::catalog::{Basis, Cited};
use crate::file::words;

words! {
    /// What a check is about.
    pub enum CheckRule as "a rule that is checked" {
        /// The way of a lead keeps its distances.
        Clearance = "clearance",
        /// The insulation stands the heat of the spaces.
        Insulation = "insulation temperature",
        /// The bends are wide enough for the cable.
        BendRadius = "bend radius",
        /// Supports stand close enough.
        Support = "support spacing",
        /// The state has an operating point.
        OperatingPoint = "operating point",
        /// A load loses little enough voltage.
        VoltageDrop = "voltage drop",
        /// A battery that is charged gets enough of the charger's voltage.
        ChargingDrop = "charging drop",
        /// A load has the voltage that it needs.
        LeastVoltage = "least voltage",
        /// The cranking circuit loses little enough voltage.
        CrankingDrop = "cranking drop",
        /// The battery holds its voltage while it cranks.
        CrankingVoltage = "cranking voltage",
        /// A lead carries its continuous current.
        Ampacity = "ampacity",
        /// By the model of its heat, a conductor stays within its rating.
        Heat = "heat",
        /// A conductor is not too small, and of an allowed metal.
        Conductor = "conductor",
        /// A lead that needs a device has one.
        Protected = "protected",
        /// The device carries the continuous current.
        DeviceCarries = "device carries the load",
        /// The device is small enough for the lead.
        DeviceGuards = "device guards the lead",
        /// The device holds the cranking or inrush pulse.
        DeviceHolds = "device holds the pulse",
        /// The device opens on a dead short at the far end.
        DeviceOpens = "device opens on a fault",
        /// A device opens in time wherever a lead is shorted.
        Coverage = "protected at every metre",
        /// What feeds a lead from its far end is kept by a device too.
        FarFeed = "fed from the far end",
        /// The device nearest to a fault opens first.
        Selectivity = "selectivity",
        /// The device can break the largest fault current.
        Interrupting = "interrupting rating",
        /// The device stands the system voltage.
        DeviceVoltage = "device voltage",
        /// The device sits near enough to the source.
        ProtectionDistance = "protection distance",
        /// The device is of an allowed kind for its place.
        DeviceKind = "kind of device",
        /// An end has its lug, sleeve, boot and die.
        Termination = "termination",
        /// A stud carries its current.
        StudCurrent = "stud current",
        /// A stud takes few enough lugs.
        LugsPerStud = "lugs per stud",
        /// A bus has studs and rating enough.
        Bus = "bus",
        /// A panel is passed by a fitting that suits it.
        Crossing = "panel crossing",
        /// A support is found for each cable or bundle.
        Clamp = "clamp",
        /// A cable is sleeved where edges, stones or heat would hurt it.
        Sleeving = "sleeving",
        /// A battery's box holds it, holds it down and vents it.
        Enclosure = "battery enclosure",
        /// A switch, contactor or connector carries its current.
        DeviceRating = "device rating",
        /// The master switch cuts everything off.
        MasterStop = "master switch",
        /// The capacitors of a load are charged without harm to what is in the way.
        Precharge = "pre-charge",
        /// Nothing is joined between batteries in series.
        MidpointTap = "midpoint tap",
        /// Metal that is no conductor carries no load current.
        BondCurrent = "bond current",
        /// A part can be bought.
        Supply = "supply",
        /// What the steps use is on the list, and what is on the list is used.
        Complete = "nothing forgotten",
        /// The job loosened a rule of the setting.
        Loosened = "rule loosened by the job",
    }
}

words! {
    /// Outcome of a check.
    pub enum Verdict as "a verdict" {
        /// The limit is kept.
        Pass = "pass",
        /// The limit is broken.
        Fail = "fail",
        /// It could not be judged.
        Open = "open",
    }
}

/// One limit and how the plan stands to it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Check {
    /// What it is about.
    pub rule: CheckRule,
    /// What was judged, by name.
    pub subject: String,
    /// The state it was judged in, if it depends on one.
    pub state: Option<String>,
    /// The outcome.
    pub verdict: Verdict,
    /// The figure found, in `unit`; where figures are uncertain, at its worst corner.
    pub value: Option<f64>,
    /// The same with every figure as planned, where that differs.
    pub nominal: Option<f64>,
    /// What the figure depends on most of what is not known exactly.
    pub moved_by: Option<&'static str>,
    /// The figure allowed, in `unit`.
    pub limit: Option<f64>,
    /// Unit of both figures; empty for counts and yes-or-no checks.
    pub unit: &'static str,
    /// Publication behind the limit.
    pub source: String,
    /// How far the limit can be trusted.
    pub basis: Basis,
    /// What it means, in a sentence; what would cure it when it fails.
    pub note: String,
}

impl Check {
    /// A check whose value may not exceed its limit.
    pub fn at_most(
        rule: CheckRule,
        subject: &str,
        value: f64,
        limit: &Cited<f64>,
        unit: &'static str,
    ) -> Self {
        Self::compared(
            rule,
            subject,
            value,
            limit,
            unit,
            value <= limit.value * (1.0 + HAIR),
        )
    }

    /// A check whose value may not fall below its limit.
    pub fn at_least(
        rule: CheckRule,
        subject: &str,
        value: f64,
        limit: &Cited<f64>,
        unit: &'static str,
    ) -> Self {
        Self::compared(
            rule,
            subject,
            value,
            limit,
            unit,
            value >= limit.value * (1.0 - HAIR),
        )
    }

    /// A yes-or-no check.
    pub fn holds(rule: CheckRule, subject: &str, holds: bool, source: &Cited<()>) -> Self {
        Self {
            rule,
            subject: subject.to_owned(),
            state: None,
            verdict: if holds { Verdict::Pass } else { Verdict::Fail },
            value: None,
            nominal: None,
            moved_by: None,
            limit: None,
            unit: "",
            source: source.citation.clone(),
            basis: source.basis,
            note: String::new(),
        }
    }

    /// A check that could not be judged, with the reason.
    pub fn open(rule: CheckRule, subject: &str, reason: &str) -> Self {
        let source = Cited {
            value: (),
            citation: String::new(),
            basis: Basis::CommonPractice,
        };
        let mut check = Self::holds(rule, subject, false, &source);
        check.verdict = Verdict::Open;
        check.note = reason.to_owned();
        check
    }

    fn compared(
        rule: CheckRule,
        subject: &str,
        value: f64,
        limit: &Cited<f64>,
        unit: &'static str,
        kept: bool,
    ) -> Self {
        Self {
            value: Some(value),
            limit: Some(limit.value),
            unit,
            ..Self::holds(rule, subject, kept, &limit.map(|_| ()))
        }
    }

    /// Names the state it was judged in.
    #[must_use]
    pub fn in_state(mut self, state: &str) -> Self {
        self.state = Some(state.to_owned());
        self
    }

    /// Adds the figure as planned, and what moves it most.
    #[must_use]
    pub fn with_nominal(mut self, nominal: f64, moved_by: Option<&'static str>) -> Self {
        self.nominal = Some(nominal);
        self.moved_by = moved_by;
        self
    }

    /// Adds what it means.
    #[must_use]
    pub fn with_note(mut self, note: impl Into<String>) -> Self {
        self.note = note.into();
        self
    }
}

/// Part of a limit by which a figure may miss it: equal figures must not fail by binary rounding.
pub const HAIR: f64 = 1e-9;
