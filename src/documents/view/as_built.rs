//! The record of a vehicle for its next owner: what was planned, and what became of it.

use serde::Serialize;

use super::PlanView;
use super::readings::{ReadView, VerdictDayView, VerdictView};
use crate::catalog::Catalog;
use crate::job::Job;
use crate::quantity::Length;
use crate::readings::PointKind;
use crate::record::{BoughtFile, RecordFile};

/// What was built.
#[derive(Debug, Clone, Serialize)]
pub struct AsBuiltView {
    /// What the job is.
    pub title: String,
    /// What tells the vehicle from others.
    pub vehicle: Option<String>,
    /// Who did the work.
    pub built_by: Option<String>,
    /// When.
    pub built_on: Option<String>,
    /// Which rules it was planned by.
    pub setting: String,
    /// Nominal voltage.
    pub system_voltage_v: f64,
    /// Where the batteries are.
    pub batteries: Vec<StandsAt>,
    /// What cuts everything off.
    pub master_switches: Vec<StandsAt>,
    /// The leads.
    pub leads: Vec<BuiltLeadView>,
    /// Parts bought in the place of planned ones.
    pub bought: Vec<BoughtView>,
    /// Currency of what was paid.
    pub currency: String,
    /// What else the next owner should know.
    pub notes: Vec<String>,
    /// The last day of readings.
    pub last_day: Option<VerdictDayView>,
    /// What was read on it at sources and loads, to compare with.
    pub compare: Vec<ComparedView>,
    /// Parts that got worse from day to day, in words.
    pub ageing: Vec<String>,
}

/// Something and its place.
#[derive(Debug, Clone, Serialize)]
pub struct StandsAt {
    /// What it is.
    pub name: String,
    /// Where it is.
    pub place: String,
}

/// A lead as built.
#[derive(Debug, Clone, Serialize)]
pub struct BuiltLeadView {
    /// Its name.
    pub name: String,
    /// The terminal it starts at.
    pub from: String,
    /// The terminal it ends at.
    pub to: String,
    /// The size of its conductor.
    pub size: String,
    /// Its protection; nothing where it has none.
    pub protection: Option<String>,
    /// Where that is.
    pub protection_at: Option<String>,
    /// Length of all its cables as planned.
    pub planned: String,
    /// The same as cut, where that is known to differ.
    pub cut: Option<String>,
}

/// A part that was bought in the place of a planned one.
#[derive(Debug, Clone, Serialize)]
pub struct BoughtView {
    /// The planned part in words.
    pub planned: String,
    /// What was bought.
    pub bought: String,
    /// From whom.
    pub supplier: Option<String>,
    /// What it cost.
    pub paid: Option<String>,
    /// Why, or what to look out for.
    pub note: Option<String>,
}

/// What test points showed in one state.
#[derive(Debug, Clone, Serialize)]
pub struct ComparedView {
    /// The state.
    pub state: String,
    /// The test points that no other state strains more.
    pub points: Vec<ComparedPointView>,
}

/// What a test point showed.
#[derive(Debug, Clone, Serialize)]
pub struct ComparedPointView {
    /// The test point.
    pub point: String,
    /// What the meter showed.
    pub read: String,
    /// The least of the band, its unit left out where the most has the same.
    pub least: String,
    /// The most of the band.
    pub most: String,
}

impl AsBuiltView {
    /// From a plan and the record of the vehicle that was built by it.
    pub fn of(
        plan: &PlanView,
        job: &Job,
        catalog: &Catalog,
        record: &RecordFile,
        readings: VerdictView,
    ) -> Self {
        let batteries = job.batteries.iter();
        let batteries = batteries.map(|battery| (&battery.given.name, battery.place));
        let masters = job.devices.iter().filter(|device| device.given.master);
        let masters = masters.map(|device| (&device.given.name, device.place));
        let stands = |(name, place): (&crate::diagnostic::Spanned<String>, _)| StandsAt {
            name: name.value.clone(),
            place: job.place(place).name.clone(),
        };
        let last_day = readings.days.into_iter().next();
        Self {
            title: plan.title.clone(),
            vehicle: record.vehicle.clone(),
            built_by: record.built_by.clone(),
            built_on: record.built_on.map(|date| date.to_string()),
            setting: plan.setting.clone(),
            system_voltage_v: plan.system_voltage_v,
            batteries: batteries.map(stands).collect(),
            master_switches: masters.map(stands).collect(),
            leads: leads(plan, job, record),
            bought: record
                .bought
                .iter()
                .map(|part| bought(part, catalog))
                .collect(),
            currency: job.currency.to_string(),
            notes: record.note.clone(),
            ageing: readings
                .ageing
                .iter()
                .map(|part| format!("{}: {}", part.what, part.told))
                .collect(),
            compare: last_day.as_ref().map(sources_and_loads).unwrap_or_default(),
            last_day,
        }
    }
}

fn leads(plan: &PlanView, job: &Job, record: &RecordFile) -> Vec<BuiltLeadView> {
    let leads = plan.leads.iter();
    leads
        .map(|lead| {
            let mut guards = plan.protection.iter();
            let guard = guards.find(|guard| guard.lead == lead.name);
            BuiltLeadView {
                name: lead.name.clone(),
                from: lead.from.clone(),
                to: lead.to.clone(),
                size: lead.size.clone(),
                protection: guard.map(|guard| format!("{:.0} A", guard.rating_a)),
                protection_at: guard.map(|guard| guard.place.clone()),
                planned: lead.cut_shown.clone(),
                cut: as_cut(plan, job, record, &lead.name),
            }
        })
        .collect()
}

/// Length of all cables of a lead, those that were cut otherwise as they were cut.
fn as_cut(plan: &PlanView, job: &Job, record: &RecordFile, lead: &str) -> Option<String> {
    let cuts = record.cut.iter().filter(|cut| cut.lead.value == lead);
    let pieces = plan.leads.iter().find(|view| view.name == lead)?;
    let planned = |number: u32| -> Length {
        let at = number.checked_sub(1).map(|at| at as usize);
        let section = at.and_then(|at| pieces.sections.get(at));
        section.map_or(Length::ZERO, |section| Length::from_m(section.cut_length_m))
    };
    let mut total = Length::from_m(pieces.cut_length_m);
    let mut any = false;
    for cut in cuts {
        total = total - planned(cut.cable.value) + cut.length.value;
        any = true;
    }
    any.then(|| job.units.shown(total))
}

fn bought(part: &BoughtFile, catalog: &Catalog) -> BoughtView {
    let known = catalog.part(&part.planned.value);
    BoughtView {
        planned: known.map_or(part.planned.value.clone(), |known| {
            known.description().to_owned()
        }),
        bought: part.bought.clone(),
        supplier: part.supplier.clone(),
        paid: part.paid.as_ref().map(|paid| paid.value.to_string()),
        note: part.note.clone(),
    }
}

/// The readings at sources and loads that agree, each point in the state where it read least; what the
/// other states showed stays in the record file, and this on one page.
fn sources_and_loads(day: &VerdictDayView) -> Vec<ComparedView> {
    let kept = |kind: PointKind| matches!(kind, PointKind::Source | PointKind::Load);
    let agree = || day.agree.iter().filter(|read| kept(read.row.row.kind));
    let strains_most = |read: &&ReadView| {
        let same = agree().filter(|other| other.row.row.point == read.row.row.point);
        let least = same.min_by(|one, other| one.read_v.total_cmp(&other.read_v));
        least.is_some_and(|least| least.state == read.state)
    };
    let mut compared: Vec<ComparedView> = Vec::new();
    for read in agree().filter(strains_most) {
        let point = compared_point(read);
        match compared.iter_mut().find(|known| known.state == read.state) {
            Some(known) => known.points.push(point),
            None => compared.push(ComparedView {
                state: read.state.clone(),
                points: vec![point],
            }),
        }
    }
    compared
}

fn compared_point(read: &ReadView) -> ComparedPointView {
    let (least, most) = (&read.row.least, &read.row.most);
    let bare = match (least.rsplit_once(' '), most.rsplit_once(' ')) {
        (Some((figure, unit)), Some((_, same))) if unit == same => figure,
        _ => least,
    };
    ComparedPointView {
        point: read.row.row.point.clone(),
        read: read.read.clone(),
        least: bare.to_owned(),
        most: most.clone(),
    }
}
