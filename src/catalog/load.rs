//! From catalog files to one checked catalog.

use std::collections::BTreeMap;

use super::offer_check::wrong_offers;
use super::{
    Aisle, AmpacityTable, AssumptionRow, BatteryTerminal, Boot, Breaker, BulkRow, Bus, Cable,
    Catalog, ChemistryRow, Clamp, Connector, ConsequenceRow, Consumable, Contactor, Curve, Die,
    Enclosure, FailureRow, Fastener, FeedThrough, Fuse, Grommet, Holder, InstallationRow,
    InsulationRow, KitRow, Label, LendingRow, Lug, MaterialRow, MeasuringRow, MetalRow, PriceGroup,
    PriceList, QuoteText, Reminder, RoutingRow, RuleSet, Sleeve, Sleeving, StrandingRow, StudRow,
    Switch, ThreadRow, Tool, Vent, check,
};
use crate::diagnostic::{Diagnostic, SourceId, Sources};
use crate::file::{Reader, table};

table! {
    /// One catalog file; it may hold rows of any kind.
    pub struct CatalogFile as "catalog file" {
        /// Cables.
        cable: Vec<Cable>,
        /// Lugs.
        lug: Vec<Lug>,
        /// Lined heat-shrink sleeves.
        sleeve: Vec<Sleeve>,
        /// Boots.
        boot: Vec<Boot>,
        /// Battery terminals.
        battery_terminal: Vec<BatteryTerminal>,
        /// Buses.
        bus: Vec<Bus>,
        /// Feed-throughs.
        feed_through: Vec<FeedThrough>,
        /// Grommets.
        grommet: Vec<Grommet>,
        /// Clamps.
        clamp: Vec<Clamp>,
        /// Fasteners.
        fastener: Vec<Fastener>,
        /// Breakers.
        breaker: Vec<Breaker>,
        /// Fuses.
        fuse: Vec<Fuse>,
        /// Fuse holders.
        holder: Vec<Holder>,
        /// Switches.
        switch: Vec<Switch>,
        /// Contactors and relays.
        contactor: Vec<Contactor>,
        /// Plugs and sockets.
        connector: Vec<Connector>,
        /// Enclosures.
        enclosure: Vec<Enclosure>,
        /// Vent hoses.
        vent: Vec<Vent>,
        /// Sleevings.
        sleeving: Vec<Sleeving>,
        /// Labels.
        label: Vec<Label>,
        /// Consumables.
        consumable: Vec<Consumable>,
        /// Dies.
        die: Vec<Die>,
        /// Tools.
        tool: Vec<Tool>,
        /// Price lists.
        price_list: Vec<PriceList>,
        /// Ampacity tables.
        ampacity_table: Vec<AmpacityTable>,
        /// Opening-time curves.
        curve: Vec<Curve>,
        /// Studs.
        stud: Vec<StudRow>,
        /// Threads.
        thread: Vec<ThreadRow>,
        /// Conductor materials.
        material: Vec<MaterialRow>,
        /// Insulation materials.
        insulation: Vec<InsulationRow>,
        /// How full of metal a conductor of each stranding class is.
        stranding: Vec<StrandingRow>,
        /// How cables lose heat to the air.
        installation: Vec<InstallationRow>,
        /// What counts when a way is chosen.
        routing: Vec<RoutingRow>,
        /// Figures that stand in where a job gives none.
        assumption: Vec<AssumptionRow>,
        /// Kinds of battery.
        chemistry: Vec<ChemistryRow>,
        /// How parts fail.
        failure: Vec<FailureRow>,
        /// How much worse a failure is by what it stops.
        consequence: Vec<ConsequenceRow>,
        /// Mass and room of parts whose own rows do not tell.
        bulk: Vec<BulkRow>,
        /// Metals of strands.
        metal: Vec<MetalRow>,
        /// How well people measure.
        measuring: Vec<MeasuringRow>,
        /// How much a spares kit may be.
        kit: Vec<KitRow>,
        /// Rules of a setting.
        setting: Vec<RuleSet>,
        /// Lines of a quote.
        price_group: Vec<PriceGroup>,
        /// Texts of a quote.
        quote_text: Vec<QuoteText>,
        /// Aisles of a shop, in the order of shopping.
        aisle: Vec<Aisle>,
        /// How to come by tools that are not owned.
        lending: Vec<LendingRow>,
        /// Things that are easily forgotten.
        reminder: Vec<Reminder>,
    }
}

/// Reads catalog layers, the later overriding the earlier, and checks the whole.
///
/// # Errors
/// Every mistake in every file.
pub fn load(layers: &[Vec<SourceId>], sources: &Sources) -> Result<Catalog, Vec<Diagnostic>> {
    let mut catalog = Catalog::default();
    let (mut readings, mut found) = (Vec::new(), Vec::new());
    for layer in layers {
        let mut rows = Catalog::default();
        for mut reading in Reader::read_all::<CatalogFile>(layer, sources) {
            if let Some(file) = reading.table.take() {
                rows.append(file);
            }
            readings.push(reading);
        }
        found.extend(check::layer(&rows));
        catalog.override_with(rows);
    }
    // Without one of its files the whole cannot be judged.
    if readings.iter().all(|reading| reading.is_toml()) {
        found.extend(check::whole(&catalog));
        found.extend(wrong_offers(&catalog));
    }
    let mut mistakes = Vec::new();
    for reading in readings {
        found = reading.not_caused_by_stand_ins(found);
        mistakes.extend(reading.mistakes);
    }
    mistakes.extend(found);
    if mistakes.is_empty() {
        Ok(catalog)
    } else {
        Err(mistakes)
    }
}

/// Runs one expression for every list of rows with an identity.
macro_rules! for_each_kind {
    ($self:ident, $other:ident, $merge:ident) => {
        $merge(&mut $self.cables, $other.cables, |row| row.id.value.clone());
        $merge(&mut $self.lugs, $other.lugs, |row| row.id.value.clone());
        $merge(&mut $self.sleeves, $other.sleeves, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.boots, $other.boots, |row| row.id.value.clone());
        $merge(
            &mut $self.battery_terminals,
            $other.battery_terminals,
            |row| row.id.value.clone(),
        );
        $merge(&mut $self.buses, $other.buses, |row| row.id.value.clone());
        $merge(&mut $self.feed_throughs, $other.feed_throughs, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.grommets, $other.grommets, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.clamps, $other.clamps, |row| row.id.value.clone());
        $merge(&mut $self.fasteners, $other.fasteners, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.breakers, $other.breakers, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.fuses, $other.fuses, |row| row.id.value.clone());
        $merge(&mut $self.holders, $other.holders, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.switches, $other.switches, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.contactors, $other.contactors, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.connectors, $other.connectors, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.enclosures, $other.enclosures, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.vents, $other.vents, |row| row.id.value.clone());
        $merge(&mut $self.sleevings, $other.sleevings, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.labels, $other.labels, |row| row.id.value.clone());
        $merge(&mut $self.consumables, $other.consumables, |row| {
            row.id.value.clone()
        });
        $merge(&mut $self.dies, $other.dies, |row| row.id.value.clone());
        $merge(&mut $self.tools, $other.tools, |row| row.id.value.clone());
        $merge(&mut $self.price_lists, $other.price_lists, |row| {
            row.supplier.value.clone()
        });
        $merge(&mut $self.ampacity_tables, $other.ampacity_tables, |row| {
            row.name.clone()
        });
        $merge(&mut $self.curves, $other.curves, |row| {
            row.name.value.clone()
        });
        $merge(&mut $self.studs, $other.studs, |row| {
            (row.thread, row.material)
        });
        $merge(&mut $self.threads, $other.threads, |row| row.thread);
        $merge(&mut $self.materials, $other.materials, |row| row.material);
        $merge(&mut $self.insulations, $other.insulations, |row| {
            row.material
        });
        $merge(&mut $self.strandings, $other.strandings, |row| row.class);
        $merge(&mut $self.installations, $other.installations, |row| {
            row.arrangement.clone()
        });
        $merge(&mut $self.routing, $other.routing, |row| row.word);
        $merge(&mut $self.assumptions, $other.assumptions, |row| row.word);
        $merge(&mut $self.chemistries, $other.chemistries, |row| {
            row.chemistry.clone()
        });
        $merge(&mut $self.failures, $other.failures, |row| {
            row.name.value.clone()
        });
        $merge(&mut $self.consequences, $other.consequences, |row| {
            row.stops
        });
        $merge(&mut $self.bulks, $other.bulks, |row| {
            (row.kind, row.purpose, row.part.clone())
        });
        $merge(&mut $self.metals, $other.metals, |row| row.metal);
        $merge(&mut $self.measurings, $other.measurings, |_| ());
        $merge(&mut $self.kits, $other.kits, |_| ());
        $merge(&mut $self.settings, $other.settings, |row| row.setting);
        $merge(&mut $self.price_groups, $other.price_groups, |row| {
            row.place.value
        });
        $merge(&mut $self.quote_texts, $other.quote_texts, |row| {
            (row.purpose, row.place.value)
        });
        $merge(&mut $self.aisles, $other.aisles, |row| row.place.value);
        $merge(&mut $self.lendings, $other.lendings, |row| row.purpose);
        $merge(&mut $self.reminders, $other.reminders, |row| {
            row.place.value
        });
    };
}

impl Catalog {
    fn append(&mut self, file: CatalogFile) {
        let file = Self::from(file);
        fn extend<T, K>(rows: &mut Vec<T>, more: Vec<T>, _identity: impl Fn(&T) -> K) {
            rows.extend(more);
        }
        for_each_kind!(self, file, extend);
    }

    fn override_with(&mut self, layer: Self) {
        fn replace<T, K: Ord>(rows: &mut Vec<T>, layer: Vec<T>, identity: impl Fn(&T) -> K) {
            let mut by_identity: BTreeMap<K, T> = BTreeMap::new();
            let all = std::mem::take(rows).into_iter().chain(layer);
            by_identity.extend(all.map(|row| (identity(&row), row)));
            rows.extend(by_identity.into_values());
        }
        for_each_kind!(self, layer, replace);
    }
}

impl From<CatalogFile> for Catalog {
    fn from(file: CatalogFile) -> Self {
        Self {
            cables: file.cable,
            lugs: file.lug,
            sleeves: file.sleeve,
            boots: file.boot,
            battery_terminals: file.battery_terminal,
            buses: file.bus,
            feed_throughs: file.feed_through,
            grommets: file.grommet,
            clamps: file.clamp,
            fasteners: file.fastener,
            breakers: file.breaker,
            fuses: file.fuse,
            holders: file.holder,
            switches: file.switch,
            contactors: file.contactor,
            connectors: file.connector,
            enclosures: file.enclosure,
            vents: file.vent,
            sleevings: file.sleeving,
            labels: file.label,
            consumables: file.consumable,
            dies: file.die,
            tools: file.tool,
            price_lists: file.price_list,
            ampacity_tables: file.ampacity_table,
            curves: file.curve,
            studs: file.stud,
            threads: file.thread,
            materials: file.material,
            insulations: file.insulation,
            strandings: file.stranding,
            installations: file.installation,
            routing: file.routing,
            assumptions: file.assumption,
            chemistries: file.chemistry,
            failures: file.failure,
            consequences: file.consequence,
            bulks: file.bulk,
            metals: file.metal,
            measurings: file.measuring,
            kits: file.kit,
            settings: file.setting,
            price_groups: file.price_group,
            quote_texts: file.quote_text,
            aisles: file.aisle,
            lendings: file.lending,
            reminders: file.reminder,
        }
    }
}
