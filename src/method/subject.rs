//! The things that steps are made for, and how they hang together.

use std::collections::BTreeSet;

use super::facts::Facts;
use super::library::Per;
use crate::job::{Access, PlaceId};
use crate::quantity::{Length, Thread, Torque};

/// Names one thing. Numbers are positions in the lists of the job and of the earlier stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Key {
    /// The job.
    Job,
    /// A battery of the job.
    Battery(usize),
    /// A cable, by its position among the cables used.
    Cable(usize),
    /// A lead of the job.
    Lead(usize),
    /// A section: lead, and position in it.
    Section(usize, usize),
    /// An end of the fittings.
    End(usize),
    /// A panel of the job.
    Panel(usize),
    /// A passage of the fittings.
    Passage(usize),
    /// A leg of the job.
    Leg(usize),
    /// A sleeving of the fittings.
    Sleeving(usize),
    /// A bus of the job.
    Bus(usize),
    /// The protection of a lead.
    Protection(usize),
    /// A device of the job.
    Device(usize),
    /// A converter of the job.
    Converter(usize),
    /// An enclosure of the fittings.
    Enclosure(usize),
    /// A joint of the fittings.
    Joint(usize),
    /// A state of the job.
    State(usize),
}

/// A part that a thing is known to use, in the fittings' own list of that kind of thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Wish {
    /// Id of the part.
    pub part: String,
    /// Its length, for parts that are cut.
    pub length: Option<Length>,
}

/// What decides which tool of several is meant.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Measure {
    /// Holes to drill.
    pub holes: Vec<Length>,
    /// Threads of nuts and screws to turn.
    pub threads: Vec<Thread>,
    /// Whether it is held by screws, which a screwdriver turns, in holes of their own size.
    pub screws: bool,
    /// Wrench, by name.
    pub wrench: Option<String>,
    /// Ids of lugs to crimp.
    pub lugs: Vec<String>,
    /// Outer diameter of the cable to cut or strip.
    pub cable: Option<Length>,
    /// Torque to tighten to.
    pub torque: Option<Torque>,
}

/// A thing that steps are made for.
#[derive(Debug, Clone)]
pub struct Subject {
    /// What kind of thing.
    pub per: Per,
    /// Which one.
    pub key: Key,
    /// Itself, its parts and what it is a part of.
    pub touches: BTreeSet<Key>,
    /// What a mechanic does in one go with it: a section with its ends, a panel with its holes.
    pub group: Key,
    /// Where it is.
    pub place: Option<PlaceId>,
    /// How it is reached, each word with its weight.
    pub reach: Vec<(Access, f64)>,
    /// What `minutes_each` counts.
    pub count: usize,
    /// What a text may say about it.
    pub facts: Facts,
    /// Parts that it is known to use.
    pub wishes: Vec<Wish>,
    /// Names by which a part's purpose may speak of it.
    pub mentions: Vec<String>,
    /// What decides on its tools.
    pub measure: Measure,
}

impl Subject {
    /// A thing with nothing said about it yet.
    pub fn new(per: Per, key: Key, facts: Facts) -> Self {
        Self {
            per,
            key,
            touches: BTreeSet::from([Key::Job, key]),
            group: key,
            place: None,
            reach: Vec::new(),
            count: 1,
            facts,
            wishes: Vec::new(),
            mentions: Vec::new(),
            measure: Measure::default(),
        }
    }

    /// Adds what it hangs together with.
    #[must_use]
    pub fn touching(mut self, keys: impl IntoIterator<Item = Key>) -> Self {
        self.touches.extend(keys);
        self
    }

    /// Sets where it is and how that is reached.
    #[must_use]
    pub fn at(mut self, place: PlaceId, reach: Option<Access>) -> Self {
        self.place = Some(place);
        self.reach = reach.map(|access| (access, 1.0)).into_iter().collect();
        self
    }

    /// Adds a part that it uses.
    #[must_use]
    pub fn using(mut self, part: Option<&String>, length: Option<Length>) -> Self {
        let wish = part.map(|part| Wish {
            part: part.clone(),
            length,
        });
        self.wishes.extend(wish);
        self
    }

    /// Whether one of the two is a part of the other, or both are the same.
    pub fn hangs_together_with(&self, other: &Self) -> bool {
        self.touches.contains(&other.key) || other.touches.contains(&self.key)
    }
}
