//! Parts, offers, reference tables and the rules of each setting, read from TOML and checked.
//!
//! The catalog embedded in the binary comes from the folder `catalog/`; a user's own folders add
//! to it or override rows by their id or name. Any file may hold rows of any kind.

mod access;
mod ampacity;
mod assumption;
mod basis;
mod check;
mod conductors;
mod curve_time;
mod devices;
mod embedded;
mod failure;
mod fit;
mod heat;
mod housing;
mod letting_through;
mod lint;
mod load;
mod metal;
mod mounting;
mod offer;
mod offer_check;
mod part;
mod protective;
mod quoting;
mod rough_price;
mod routing;
mod setting;
mod shopping;
mod supply;
mod tables;

pub use access::Access;
pub use ampacity::{Allowed, Surroundings};
pub use assumption::{Assumption, AssumptionRow};
pub use basis::{Basis, Cited};
pub use conductors::{Boot, Cable, Colour, ConductorMaterial, Insulation, Lug, LugAngle, Sleeve};
pub use devices::{Breaker, Connector, Contactor, Fuse, Holder, Reset, Switch};
pub use embedded::embedded;
pub use failure::{
    BulkRow, Consequence, ConsequenceRow, FailingPart, FailureReading, FailureRow, KitRow, MendRow,
    MendingPart,
};
pub use heat::{InstallationRow, InsulationRow, StrandingRow};
pub use housing::{
    Consumable, ConsumableUse, Die, Enclosure, Label, Sleeving, SleevingKind, Tool, ToolUse, Vent,
};
pub use letting_through::Spared;
pub use lint::{Hole, lint};
pub use load::{CatalogFile, load};
pub use metal::{MeasuringRow, Metal, MetalRow};
pub use mounting::{
    BatteryTerminal, Bus, Clamp, Fastener, FastenerKind, FeedThrough, Grommet, Polarity, PostKind,
    StudMaterial,
};
pub use offer::{Offer, Pack, PriceBreak, PriceList, TaxPlace};
pub use part::{Part, PartKind};
pub use protective::{DeviceDemand, Protective};
pub use quoting::{PriceGroup, QuoteText, QuoteTextUse};
pub use rough_price::RoughPrices;
pub use routing::{RoutingRow, RoutingWord};
pub use setting::{RuleSet, Setting};
pub use shopping::{Aisle, Lending, LendingRow, Reminder};
pub use tables::{
    AmpacityRow, AmpacityTable, BundleRow, ChemistryRow, Curve, CurvePoint, MaterialRow, RestPoint,
    StudRow, ThreadRow,
};

use crate::quantity::Thread;

/// Everything known about parts and rules; rows of a kind stand in the order of their ids.
#[derive(Debug, Clone, Default)]
pub struct Catalog {
    /// Cables.
    pub cables: Vec<Cable>,
    /// Lugs.
    pub lugs: Vec<Lug>,
    /// Sleeves.
    pub sleeves: Vec<Sleeve>,
    /// Boots.
    pub boots: Vec<Boot>,
    /// Battery terminals.
    pub battery_terminals: Vec<BatteryTerminal>,
    /// Buses.
    pub buses: Vec<Bus>,
    /// Feed-throughs.
    pub feed_throughs: Vec<FeedThrough>,
    /// Grommets.
    pub grommets: Vec<Grommet>,
    /// Clamps.
    pub clamps: Vec<Clamp>,
    /// Fasteners.
    pub fasteners: Vec<Fastener>,
    /// Breakers.
    pub breakers: Vec<Breaker>,
    /// Fuses.
    pub fuses: Vec<Fuse>,
    /// Fuse holders.
    pub holders: Vec<Holder>,
    /// Switches.
    pub switches: Vec<Switch>,
    /// Contactors.
    pub contactors: Vec<Contactor>,
    /// Connectors.
    pub connectors: Vec<Connector>,
    /// Enclosures.
    pub enclosures: Vec<Enclosure>,
    /// Vent hoses.
    pub vents: Vec<Vent>,
    /// Sleevings.
    pub sleevings: Vec<Sleeving>,
    /// Labels.
    pub labels: Vec<Label>,
    /// Consumables.
    pub consumables: Vec<Consumable>,
    /// Dies.
    pub dies: Vec<Die>,
    /// Tools.
    pub tools: Vec<Tool>,
    /// Price lists.
    pub price_lists: Vec<PriceList>,
    /// Ampacity tables.
    pub ampacity_tables: Vec<AmpacityTable>,
    /// Opening-time curves.
    pub curves: Vec<Curve>,
    /// Studs.
    pub studs: Vec<StudRow>,
    /// Threads.
    pub threads: Vec<ThreadRow>,
    /// Conductor materials.
    pub materials: Vec<MaterialRow>,
    /// Insulation materials.
    pub insulations: Vec<InsulationRow>,
    /// How full of metal a conductor of each stranding class is.
    pub strandings: Vec<StrandingRow>,
    /// How cables lose heat to the air.
    pub installations: Vec<InstallationRow>,
    /// What counts when a way is chosen.
    pub routing: Vec<RoutingRow>,
    /// Figures that stand in where a job gives none.
    pub assumptions: Vec<AssumptionRow>,
    /// Kinds of battery.
    pub chemistries: Vec<ChemistryRow>,
    /// How parts fail.
    pub failures: Vec<FailureRow>,
    /// How much worse a failure is by what it stops.
    pub consequences: Vec<ConsequenceRow>,
    /// Mass and room of parts whose own rows do not tell.
    pub bulks: Vec<BulkRow>,
    /// Metals of strands.
    pub metals: Vec<MetalRow>,
    /// How well people measure; one row.
    pub measurings: Vec<MeasuringRow>,
    /// How much a spares kit may be; one row.
    pub kits: Vec<KitRow>,
    /// Rules, one set a setting.
    pub settings: Vec<RuleSet>,
    /// Lines of a quote, by their place.
    pub price_groups: Vec<PriceGroup>,
    /// Texts of a quote, by purpose and place.
    pub quote_texts: Vec<QuoteText>,
    /// Aisles of a shop, by their place.
    pub aisles: Vec<Aisle>,
    /// How to come by tools that are not owned.
    pub lendings: Vec<LendingRow>,
    /// Things that are easily forgotten, by their place.
    pub reminders: Vec<Reminder>,
}

impl Catalog {
    /// Every part, kind by kind in the order of [`PartKind`].
    pub fn parts(&self) -> impl Iterator<Item = &dyn Part> {
        fn each<T: Part>(rows: &[T]) -> impl Iterator<Item = &dyn Part> {
            rows.iter().map(|row| row as &dyn Part)
        }
        each(&self.cables)
            .chain(each(&self.lugs))
            .chain(each(&self.sleeves))
            .chain(each(&self.boots))
            .chain(each(&self.battery_terminals))
            .chain(each(&self.buses))
            .chain(each(&self.feed_throughs))
            .chain(each(&self.grommets))
            .chain(each(&self.clamps))
            .chain(each(&self.fasteners))
            .chain(each(&self.breakers))
            .chain(each(&self.fuses))
            .chain(each(&self.holders))
            .chain(each(&self.switches))
            .chain(each(&self.contactors))
            .chain(each(&self.connectors))
            .chain(each(&self.enclosures))
            .chain(each(&self.vents))
            .chain(each(&self.sleevings))
            .chain(each(&self.labels))
            .chain(each(&self.consumables))
            .chain(each(&self.dies))
            .chain(each(&self.tools))
    }

    /// The part with an id.
    pub fn part(&self, id: &str) -> Option<&dyn Part> {
        self.parts().find(|part| part.id() == id)
    }

    /// The colours that a part is sold in; empty where it has no choice of colour.
    pub fn colours(&self, id: &str) -> &[Colour] {
        let cable = self.cables.iter().find(|row| *row.id == id);
        let sleeve = self.sleeves.iter().find(|row| *row.id == id);
        let boot = self.boots.iter().find(|row| *row.id == id);
        let colours = cable.map(|row| row.colours.as_slice());
        colours
            .or(sleeve.map(|row| row.colours.as_slice()))
            .or(boot.map(|row| std::slice::from_ref(&row.colour)))
            .unwrap_or_default()
    }

    /// The rules of a setting.
    pub fn rules(&self, setting: Setting) -> Option<&RuleSet> {
        self.settings.iter().find(|rules| rules.setting == setting)
    }

    /// The ampacity table with a name.
    pub fn ampacity_table(&self, name: &str) -> Option<&AmpacityTable> {
        self.ampacity_tables.iter().find(|table| table.name == name)
    }

    /// The curve with a name.
    pub fn curve(&self, name: &str) -> Option<&Curve> {
        self.curves.iter().find(|curve| *curve.name == name)
    }

    /// What is known of a stud.
    pub fn stud(&self, thread: Thread, material: StudMaterial) -> Option<&StudRow> {
        self.studs
            .iter()
            .find(|row| row.thread == thread && row.material == material)
    }

    /// Wrench and hole of a thread.
    pub fn thread(&self, thread: Thread) -> Option<&ThreadRow> {
        self.threads.iter().find(|row| row.thread == thread)
    }

    /// How a material's resistance follows temperature.
    pub fn material(&self, material: ConductorMaterial) -> Option<&MaterialRow> {
        self.materials.iter().find(|row| row.material == material)
    }

    /// How an insulation material conducts and keeps heat.
    pub fn insulation(&self, material: Insulation) -> Option<&InsulationRow> {
        self.insulations.iter().find(|row| row.material == material)
    }

    /// How full of metal a conductor of a stranding class is.
    pub fn stranding(&self, class: u32) -> Option<&StrandingRow> {
        self.strandings.iter().find(|row| row.class == class)
    }

    /// What is known of a kind of battery.
    pub fn chemistry(&self, name: &str) -> Option<&ChemistryRow> {
        self.chemistries.iter().find(|row| row.chemistry == name)
    }

    /// The cable with an id.
    pub fn cable(&self, id: &str) -> Option<&Cable> {
        self.cables.iter().find(|cable| *cable.id == id)
    }

    /// Names of the cable families, each once, in order.
    pub fn cable_families(&self) -> Vec<&str> {
        let mut names: Vec<&str> = self.cables.iter().map(|row| row.family.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        names
    }
}
