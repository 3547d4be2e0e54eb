//! The plan as readers see it: names instead of positions, units in every name.
//!
//! The same view is written as JSON and filled into the templates, so that a document can show
//! nothing that the plan does not hold.

mod as_built;
mod build;
mod checks;
mod circuit;
mod condensed;
mod costing;
mod faults;
mod fittings;
mod headline;
mod joints;
mod labels;
mod layout;
mod leads;
mod money;
mod quote;
mod readings;
mod shopping;
mod steps;
mod thicker;
mod volts;

use serde::Serialize;

use crate::spares::Spares;

pub use as_built::AsBuiltView;
pub use checks::{CheckGroupView, CheckView, KeptView, MisfitView};
pub use circuit::StateView;
pub use condensed::RowView;
pub use costing::{CostingOption, CostingView};
pub use faults::{FaultLeadView, FaultPointView, FaultsView, MetresView, StretchView};
pub use fittings::{
    BusView, ClampView, EnclosureView, PassageView, ProtectionView, SelectivityView, SleevingView,
};
pub use joints::JointView;
pub use labels::LabelView;
pub use layout::LayoutView;
pub use leads::{LeadView, ThickerView};
pub use money::{BillView, CutView, LeftView};
pub use quote::{CustomerOption, CustomerView};
pub use readings::{ReadingRowView, ReadingsView, VerdictView};
pub use shopping::ShoppingView;
pub use steps::{BriefStepView, SharingView, StepGroupView, StepView, TogetherView};
pub use volts::{LoadVoltsView, VoltsStateView, VoltsView};

/// A whole plan.
#[derive(Debug, Clone, Serialize)]
pub struct PlanView {
    /// `READY TO BUILD` or `NOT READY TO BUILD`.
    pub status: &'static str,
    /// Whether every check passes.
    pub ready: bool,
    /// What the job is.
    pub title: String,
    /// Which rules hold.
    pub setting: String,
    /// Nominal voltage.
    pub system_voltage_v: f64,
    /// Units that documents show.
    pub units: String,
    /// Coldest and hottest day.
    pub climate: ClimateView,
    /// Rules that the job loosened.
    pub loosened: Vec<LoosenedView>,
    /// Names of the sheets of the one-line diagram; for documents, not for programs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub one_line: Vec<String>,
    /// Where every place is.
    pub layout: LayoutView,
    /// Leads.
    pub leads: Vec<LeadView>,
    /// How good the choice of sizes is, all leads taken together.
    pub proof: ProofView,
    /// Breakers and fuses.
    pub protection: Vec<ProtectionView>,
    /// Dead shorts.
    pub faults: FaultsView,
    /// States solved.
    pub states: Vec<StateView>,
    /// Where the volts go.
    pub volts: VoltsView,
    /// Verdicts.
    pub checks: Vec<CheckView>,
    /// Verdicts by rule; for documents, not for programs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub check_groups: Vec<CheckGroupView>,
    /// How many checks pass, fail and are open.
    pub tally: TallyView,
    /// What could not be fitted.
    pub misfits: Vec<MisfitView>,
    /// What is written on both ends of every cable.
    pub labels: Vec<LabelView>,
    /// Clamps.
    pub clamps: Vec<ClampView>,
    /// Fittings in panels.
    pub passages: Vec<PassageView>,
    /// Buses.
    pub buses: Vec<BusView>,
    /// Battery boxes.
    pub enclosures: Vec<EnclosureView>,
    /// Sleeving.
    pub sleevings: Vec<SleevingView>,
    /// Nuts and what is under them.
    pub joints: Vec<JointView>,
    /// Where the torques come from, each once.
    pub torque_sources: Vec<String>,
    /// Material.
    pub bill: BillView,
    /// Tools and dies not owned.
    pub tools_bill: BillView,
    /// Tools and dies owned.
    pub tools_owned: Vec<String>,
    /// What is taken from the shelf.
    pub from_stock: Vec<money::StockView>,
    /// What to fetch where.
    pub shopping: ShoppingView,
    /// Which piece is cut from which roll.
    pub cuts: Vec<CutView>,
    /// What each cut takes of a roll beside the piece.
    pub cut_allowance: String,
    /// What is left of the material.
    pub left: Vec<LeftView>,
    /// Steps.
    pub steps: Vec<StepView>,
    /// The same steps, each kind told once; for documents, not for programs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub step_groups: Vec<StepGroupView>,
    /// How to share out the steps.
    pub sharing: SharingView,
    /// What to carry for the roadside.
    pub spares: Option<Spares>,
    /// What a meter should show.
    pub readings: Option<ReadingsView>,
    /// Cautions for the whole work.
    pub cautions: Vec<String>,
    /// Sum of the minutes.
    pub minutes: f64,
}

/// How good the choice of sizes is.
#[derive(Debug, Clone, Serialize)]
pub struct ProofView {
    /// The same in a sentence.
    pub told: String,
    /// Rough price of all leads with their ends and devices.
    pub price: f64,
    /// No choice that keeps the limits is cheaper than this.
    pub bound: f64,
    /// Whether the choice is proved the cheapest.
    pub proved: bool,
    /// Whether it keeps every limit that any size can keep.
    pub keeps_limits: bool,
}

/// Coldest and hottest day.
#[derive(Debug, Clone, Serialize)]
pub struct ClimateView {
    /// Coldest day.
    pub cold_c: f64,
    /// Hottest day.
    pub hot_c: f64,
}

/// A rule that the job loosened.
#[derive(Debug, Clone, Serialize)]
pub struct LoosenedView {
    /// Its key.
    pub rule: String,
    /// The setting's own figure.
    pub setting: String,
    /// The figure of the job.
    pub job: String,
    /// Publication behind the setting's own figure.
    pub source: String,
}

/// How many checks there are of each verdict.
#[derive(Debug, Clone, Serialize)]
pub struct TallyView {
    /// Passing.
    pub pass: usize,
    /// Failing.
    pub fail: usize,
    /// Open.
    pub open: usize,
}
