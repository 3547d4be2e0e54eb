//! The step library as written: kinds of steps, cautions, and what access does to the time.

use crate::catalog::{ConsumableUse, PartKind, ToolUse};
use crate::diagnostic::Spanned;
use crate::file::{table, words};
use crate::job::Access;
use crate::quantity::{Duration, Ratio};

words! {
    /// The coarse phases of the work, in their usual order.
    pub enum Stage as "a stage of the work" {
        /// Reading, making safe, measuring.
        Prepare = "prepare",
        /// Holes in panels and for clamps.
        Drill = "drill",
        /// Everything that is screwed down.
        Mount = "mount",
        /// Cable to length.
        Cut = "cut",
        /// Lugs and sleeves.
        Crimp = "crimp",
        /// Leads into the vehicle.
        Lay = "lay",
        /// Lugs onto studs.
        Connect = "connect",
        /// Proof before and after the first power.
        Test = "test",
        /// Closing up.
        Finish = "finish",
    }
}

words! {
    /// What one step of a kind is made for.
    pub enum Per as "a thing that steps are made for" {
        /// One step for the whole job.
        Job = "job",
        /// A battery.
        Battery = "battery",
        /// A cable of the catalog that some lead is made of.
        Cable = "cable",
        /// A lead from end to end.
        Lead = "lead",
        /// A made-up cable: a lead, or the part of a lead between two studs.
        Section = "section",
        /// One end of a section.
        End = "end",
        /// A wall or floor that leads pass.
        Panel = "panel",
        /// A fitting for one lead in a panel.
        Passage = "panel hole",
        /// A leg that leads lie on.
        Leg = "leg",
        /// Sleeving over a stretch of a lead.
        Sleeving = "sleeving",
        /// A bus.
        Bus = "bus",
        /// A breaker or fuse.
        Protection = "protection",
        /// A switch, contactor or connector.
        Device = "device",
        /// A battery's box.
        Enclosure = "enclosure",
        /// A nut on a stud with the lugs under it.
        Joint = "joint",
        /// An operating state.
        State = "state",
    }
}

table! {
    /// A kind of step. `title`, `particulars`, `text`, `hold_points`, `readings` and `second_person` are templates, `when` is an expression; they may use the values of the thing that the step is made for.
    pub struct StepFile as "step kind" {
        /// Its name.
        name: Spanned<String>,
        /// The phase it belongs to.
        stage: Stage,
        /// What one such step is made for.
        per: Per,
        /// For which of these things it is made; for all when absent.
        when: Option<Spanned<String>>,
        /// What to do, in a line.
        title: Spanned<String>,
        /// What holds of this one thing alone: its figures, its parts, its order. A document that tells how a kind of step is done only once still shows these with every step.
        particulars: Option<Spanned<String>>,
        /// How such a step is done, at length; the same for every thing that it is made for.
        text: Spanned<String>,
        /// Kinds of steps that must be done first for the same thing, for its parts, and for what it is a part of. Where no such step is made, the kinds that it needs count in its stead.
        needs: Vec<Spanned<String>>,
        /// Kinds of steps that must all be done first, whatever they are for.
        after_all: Vec<Spanned<String>>,
        /// Kinds of parts that the step uses up.
        takes: Vec<PartKind>,
        /// Uses of consumables that the step has.
        consumables: Vec<ConsumableUse>,
        /// Whether the step names all parts that no other step uses.
        rest: bool = "false",
        /// Tools of the catalog.
        tools: Vec<ToolUse>,
        /// Other things to have at hand.
        aids: Vec<String>,
        /// Time that one step takes.
        minutes: Duration,
        /// Further time for each of what `count` counts: leads of the job, legs under a lead or section, crimps of an end, holes in a panel, clamps on a leg, screws of a bus, lugs of a joint, loads of a state; one of anything else.
        minutes_each: Duration = "0 min",
        /// Whether it is done at the bench, where access does not matter.
        bench: bool = "false",
        /// What to make sure of before going on; a text that comes out empty is left away.
        hold_points: Vec<Spanned<String>>,
        /// Readings to write down, each a template: what is measured, with its unit.
        readings: Vec<Spanned<String>>,
        /// What a second person does, where one is needed, as a template.
        second_person: Option<Spanned<String>>,
        /// Cautions by their names.
        cautions: Vec<Spanned<String>>,
        /// Publication, or the words `common practice`.
        source: String,
    }
}

impl StepFile {
    /// The templates of what is to be done.
    pub fn paragraphs(&self) -> impl Iterator<Item = &Spanned<String>> {
        let first = [&self.title].into_iter();
        first.chain(&self.particulars).chain([&self.text])
    }
}

table! {
    /// Something that can go wrong and hurt.
    pub struct CautionFile as "caution" {
        /// Its name.
        name: Spanned<String>,
        /// In a few words, for the step where it bites.
        short: String,
        /// At length, for the first page.
        text: String,
        /// Whether every plan carries it, even where no step calls it.
        always: bool = "false",
        /// For which jobs it holds, as an expression; for all when absent.
        when: Option<Spanned<String>>,
        /// Publication, or the words `common practice`.
        source: String,
    }
}

table! {
    /// Time that a step takes by the access to its leg or place, in percent of its usual time.
    pub struct AccessFile as "table of access factors" {
        /// On the bench or wide open.
        open: Ratio,
        /// Reached with usual tools.
        easy: Ratio,
        /// Reached lying down or past other parts.
        awkward: Ratio,
        /// Reached only after taking something off.
        hard: Ratio,
    }
}

impl AccessFile {
    /// The factor of a word.
    pub fn factor(&self, access: Access) -> f64 {
        match access {
            Access::Open => self.open.fraction(),
            Access::Easy => self.easy.fraction(),
            Access::Awkward => self.awkward.fraction(),
            Access::Hard => self.hard.fraction(),
        }
    }
}

table! {
    /// What a phase of the work is called where a customer reads it.
    pub struct PhaseFile as "phase" {
        /// The phase.
        stage: Spanned<Stage>,
        /// What it is, in a few words.
        name: String,
    }
}

table! {
    /// One file of the step library; it may hold rows of any kind.
    pub struct StepLibraryFile as "step library file" {
        /// Kinds of steps.
        step: Vec<StepFile>,
        /// Cautions.
        caution: Vec<CautionFile>,
        /// What access does to the time.
        access: Option<AccessFile>,
        /// What the phases of the work are called.
        phase: Vec<PhaseFile>,
    }
}

/// The step library: kinds of steps and cautions in the order of the files.
#[derive(Debug, Clone, Default)]
pub struct StepLibrary {
    /// Kinds of steps.
    pub steps: Vec<StepFile>,
    /// Cautions.
    pub cautions: Vec<CautionFile>,
    /// What access does to the time; there whenever there are steps.
    pub access: Option<AccessFile>,
    /// What the phases of the work are called; each once.
    pub phases: Vec<PhaseFile>,
}

impl StepLibrary {
    /// What a phase is called where a customer reads it; its word where the library does not say.
    pub fn phase(&self, stage: Stage) -> String {
        let row = self.phases.iter().find(|row| row.stage.value == stage);
        row.map_or_else(|| stage.to_string(), |row| row.name.clone())
    }

    /// Position of the kind with a name.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.steps.iter().position(|step| *step.name == name)
    }

    /// How much longer a step takes where access is as given.
    pub fn factor(&self, access: Access) -> f64 {
        self.access
            .as_ref()
            .map_or(1.0, |table| table.factor(access))
    }
}
