//! The wiring as trees: what hangs on what, from a battery's pole outwards.

use std::collections::VecDeque;

use crate::catalog::PartKind;
use crate::drawings::Scene;
use crate::job::{Job, LeadId, Owner, TerminalId};

/// One line of the diagram: an item, and what joins it to the one that it hangs on.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The row that it hangs on; none for the start of a tree.
    pub parent: Option<usize>,
    /// What it is.
    pub item: Item,
    /// Its name.
    pub name: String,
    /// What joins it to its parent.
    pub by: By,
    /// Where it is drawn in full, when this row only closes a ring, or where its branches are.
    pub again: Option<Elsewhere>,
}

/// Where else an item is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Elsewhere {
    /// In a row before.
    Above,
    /// In a row after.
    Below,
}

/// What stands at the end of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Item {
    /// A battery.
    Battery,
    /// An alternator.
    Generator,
    /// A starter.
    Motor,
    /// Any other load.
    Load,
    /// A bus.
    Bus,
    /// A switch.
    Switch,
    /// A contactor.
    Contactor,
    /// A plug with its socket.
    Connector,
    /// A converter.
    Converter,
    /// Metal of the body or of the engine.
    Frame,
}

/// What joins an item to the one that it hangs on.
#[derive(Debug, Clone, PartialEq)]
pub enum By {
    /// Nothing: a tree starts here.
    Start,
    /// A lead.
    Lead {
        /// Its name, size and length, in words.
        told: String,
        /// Its protection.
        guard: Option<Protector>,
    },
    /// Metal of the body.
    Metal {
        /// Its resistance, in words.
        told: String,
    },
}

/// What protects a lead.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Protector {
    /// A fuse.
    Fuse,
    /// A breaker.
    Breaker,
}

/// Every tree of a plan, one after the other: batteries' positive poles first, then what they do not
/// reach, then batteries' negative poles.
pub fn rows(scene: Scene<'_>) -> Vec<Row> {
    let forest = Forest::of(scene);
    let mut rows = Vec::new();
    let mut seen = vec![None; forest.blocks.len()];
    for start in forest.starts() {
        if seen[start].is_none() && !forest.edges_at(start).is_empty() {
            forest.grow(start, &mut seen, &mut rows);
        }
    }
    rows
}

/// Terminals that one symbol stands for, such as both sides of a switch.
struct Block {
    owner: Owner,
    name: String,
}

/// A lead or a bond between two blocks.
struct Edge {
    ends: (usize, usize),
    by: By,
}

struct Forest<'a> {
    job: &'a Job,
    blocks: Vec<Block>,
    /// The block of each terminal.
    block_of: Vec<usize>,
    edges: Vec<Edge>,
    scene: Scene<'a>,
}

impl<'a> Forest<'a> {
    fn of(scene: Scene<'a>) -> Self {
        let mut forest = Self {
            job: scene.job,
            blocks: Vec::new(),
            block_of: vec![usize::MAX; scene.job.terminals.len()],
            edges: Vec::new(),
            scene,
        };
        forest.add_blocks();
        forest.add_edges();
        forest
    }

    fn add_blocks(&mut self) {
        let job = self.job;
        for device in &job.devices {
            self.block(
                device.given.name.value.clone(),
                &[device.input, device.output],
            );
        }
        for converter in &job.converters {
            let name = &converter.given.name.value;
            self.block(name.clone(), &[converter.input, converter.output]);
            let returns = [converter.input_return, converter.output_return];
            self.block(format!("{name}, return"), &returns);
        }
        for (index, terminal) in job.terminals.iter().enumerate() {
            if self.block_of[index] == usize::MAX {
                self.block(terminal.name.clone(), &[TerminalId(index)]);
            }
        }
    }

    fn block(&mut self, name: String, terminals: &[TerminalId]) {
        let Some(first) = terminals.first() else {
            return;
        };
        // The return of a converter may be a chassis point that has a block already.
        if self.block_of[first.0] != usize::MAX {
            return;
        }
        let owner = self.job.terminal(*first).owner;
        for terminal in terminals {
            self.block_of[terminal.0] = self.blocks.len();
        }
        self.blocks.push(Block { owner, name });
    }

    fn add_edges(&mut self) {
        let job = self.job;
        for (id, lead) in job.leads() {
            let ends = (self.block_of[lead.from.0], self.block_of[lead.to.0]);
            let by = self.by_lead(id);
            self.edges.push(Edge { ends, by });
        }
        for bond in &job.bonds {
            let ends = (self.block_of[bond.from.0], self.block_of[bond.to.0]);
            let milliohm = bond.given.resistance.milliohm();
            let by = By::Metal {
                told: format!("metal, {milliohm:.2} mΩ"),
            };
            self.edges.push(Edge { ends, by });
        }
    }

    fn by_lead(&self, id: LeadId) -> By {
        let plan = self.scene.plan;
        let name = &self.job.lead(id).name;
        let length = plan.route.leads[id.0].cut();
        let shown = self.job.units.shown(length);
        let mut sized = plan.sizing.leads.iter();
        let size = sized.find(|sized| sized.lead == id);
        let size = size.map_or(String::new(), |sized| format!(", {}", sized.size));
        let guard = plan.protection.guard(id);
        let rated = guard.map_or(String::new(), |guard| {
            format!("; {} {:.0} A", guard.kind, guard.rating.a())
        });
        By::Lead {
            told: format!("{name}{size}, {shown}{rated}"),
            guard: guard.map(|guard| match guard.kind {
                PartKind::Fuse => Protector::Fuse,
                _ => Protector::Breaker,
            }),
        }
    }

    /// Blocks from which trees may grow, in the order in which they are tried.
    fn starts(&self) -> Vec<usize> {
        let block = |terminal: TerminalId| self.block_of[terminal.0];
        let job = self.job;
        let positive = job.batteries.iter().map(|battery| block(battery.positive));
        let alternators = job.alternators.iter().map(|one| block(one.positive));
        let outputs = job.converters.iter().map(|one| block(one.output));
        let negative = job.batteries.iter().map(|battery| block(battery.negative));
        positive
            .chain(alternators)
            .chain(outputs)
            .chain(negative)
            .chain(0..self.blocks.len())
            .collect()
    }

    fn edges_at(&self, block: usize) -> Vec<usize> {
        let numbered = self.edges.iter().enumerate();
        let own = numbered.filter(|(_, edge)| edge.ends.0 == block || edge.ends.1 == block);
        own.map(|(index, _)| index).collect()
    }

    /// One tree, its nearest items first reached, so that no branch is longer than it must be.
    fn grow(&self, start: usize, seen: &mut [Option<usize>], rows: &mut Vec<Row>) {
        let mut grown = vec![self.row(start, None, By::Start)];
        let mut used = vec![false; self.edges.len()];
        seen[start] = Some(0);
        let mut open = VecDeque::from([(start, 0)]);
        while let Some((block, row)) = open.pop_front() {
            for index in self.edges_at(block) {
                if std::mem::replace(&mut used[index], true) {
                    continue;
                }
                let edge = &self.edges[index];
                let other = if edge.ends.0 == block {
                    edge.ends.1
                } else {
                    edge.ends.0
                };
                let again = seen[other].is_some();
                grown.push(Row {
                    again: again.then_some(Elsewhere::Above),
                    ..self.row(other, Some(row), edge.by.clone())
                });
                if !again {
                    seen[other] = Some(grown.len() - 1);
                    open.push_back((other, grown.len() - 1));
                }
            }
        }
        in_order(&grown, rows);
    }

    fn row(&self, block: usize, parent: Option<usize>, by: By) -> Row {
        let block = &self.blocks[block];
        Row {
            parent,
            item: self.item(block.owner),
            name: block.name.clone(),
            by,
            again: None,
        }
    }

    fn item(&self, owner: Owner) -> Item {
        match owner {
            Owner::Battery(_) => Item::Battery,
            Owner::Alternator(_) => Item::Generator,
            Owner::Converter(_) => Item::Converter,
            Owner::Load(index) if self.job.loads[index].is_starter() => Item::Motor,
            Owner::Load(_) => Item::Load,
            Owner::Bus(_) => Item::Bus,
            Owner::Device(index) => self.device(index),
            Owner::Chassis(_) => Item::Frame,
        }
    }

    fn device(&self, index: usize) -> Item {
        let catalog = self.scene.catalog;
        let part = self.job.devices[index].given.part.value.as_str();
        let mut contactors = catalog.contactors.iter();
        let mut connectors = catalog.connectors.iter();
        if contactors.any(|row| row.id.value == part) {
            Item::Contactor
        } else if connectors.any(|row| row.id.value == part) {
            Item::Connector
        } else {
            Item::Switch
        }
    }
}

/// Levels that stand beside each other; what hangs deeper starts a tree of its own.
const LEVELS: usize = 6;

/// Adds the rows of a tree, each item's own branches right under it; branches that are too deep come
/// after it as trees of their own.
fn in_order(grown: &[Row], rows: &mut Vec<Row>) {
    let mut trees = VecDeque::from([0]);
    while let Some(root) = trees.pop_front() {
        let mut places = vec![None; grown.len()];
        let mut open = vec![(root, 0)];
        while let Some((index, level)) = open.pop() {
            let row = &grown[index];
            let children: Vec<usize> = (0..grown.len())
                .filter(|child| grown[*child].parent == Some(index))
                .collect();
            let too_deep = level + 1 == LEVELS && !children.is_empty();
            let continued = index == root && row.parent.is_some();
            places[index] = Some(rows.len());
            rows.push(Row {
                parent: row.parent.and_then(|parent| places[parent]),
                by: match continued {
                    true => By::Start,
                    false => row.by.clone(),
                },
                again: match (continued, too_deep) {
                    (true, _) => Some(Elsewhere::Above),
                    (_, true) => Some(Elsewhere::Below),
                    _ => row.again,
                },
                ..row.clone()
            });
            match too_deep {
                true => trees.push_back(index),
                false => open.extend(children.into_iter().rev().map(|child| (child, level + 1))),
            }
        }
    }
    point_below(rows);
}

/// Rows that close a ring, and come before the row that they speak of, say so.
fn point_below(rows: &mut [Row]) {
    let full = |row: &Row| row.again != Some(Elsewhere::Above) || row.parent.is_none();
    let first: Vec<bool> = rows
        .iter()
        .enumerate()
        .map(|(at, row)| {
            let mut before = rows[..at].iter().filter(|other| full(other));
            !full(row) && before.all(|other| other.name != row.name)
        })
        .collect();
    for (row, first) in rows.iter_mut().zip(first) {
        if first {
            row.again = Some(Elsewhere::Below);
        }
    }
}
