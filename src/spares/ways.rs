//! What each way of mending takes, and whether hands and tools get there.

use super::bypass::Bypass;
use super::pool::Pool;
use super::subject::{Subject, access};
use crate::catalog::{
    Access, ConsumableUse, FailureRow, Fastener, FastenerKind, MendRow, MendingPart, Tool, ToolUse,
};
use crate::fittings::{End, bolt_length};
use crate::method::Work;
use crate::quantity::{Length, Thread};

/// A way to mend a failure with what it takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Way {
    /// Position in the failure's list of ways.
    pub row: usize,
    /// Positions of the items in the pool.
    pub items: Vec<usize>,
    /// The bypass lead, where one is taken.
    pub bypass: Option<usize>,
}

/// Why a failure has no way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bar {
    /// There is none in the data, or none for just this part.
    NoMend,
    /// It cannot be reached at the roadside.
    OutOfReach,
    /// A part or tool that it takes is not to be had.
    NotToBeHad,
}

/// Finds the ways.
#[derive(Debug)]
pub(super) struct Finder<'a, 'b, 'c> {
    pub work: &'b Work<'a>,
    pub pool: Pool<'a, 'c>,
    pub bypasses: &'b [Bypass<'a>],
    /// Worst access that counts as within reach.
    pub reach: Access,
}

impl Finder<'_, '_, '_> {
    /// Every way to mend a failure of a part at the roadside, or why there is none.
    pub(super) fn ways(&mut self, row: &FailureRow, subject: &Subject) -> Result<Vec<Way>, Bar> {
        let mut ways = Vec::new();
        let mut bar = Bar::NoMend;
        for (position, mend) in row.mend.iter().enumerate() {
            match self.way(position, mend, subject) {
                Ok(found) => ways.extend(found),
                // That it is out of reach says more than that another way does not suit the part.
                Err(Bar::NoMend) => {}
                Err(why) => bar = why,
            }
        }
        if ways.is_empty() { Err(bar) } else { Ok(ways) }
    }

    fn way(&mut self, row: usize, mend: &MendRow, subject: &Subject) -> Result<Vec<Way>, Bar> {
        let by_bypass = mend.parts.contains(&MendingPart::Bypass);
        let needed = if by_bypass {
            self.both_ends(subject)
        } else {
            subject.access
        };
        if by_bypass && subject.leads.len() != 1 {
            return Err(Bar::NoMend);
        }
        if needed > self.reach.min(mend.access) {
            return Err(Bar::OutOfReach);
        }
        let mut items = Vec::new();
        for part in mend
            .parts
            .iter()
            .filter(|part| **part != MendingPart::Bypass)
        {
            items.extend(self.parts(*part, subject)?);
        }
        for purpose in &mend.consumables {
            items.push(self.consumable(*purpose)?);
        }
        let ends = if by_bypass {
            self.bypass_threads(subject)
        } else {
            subject.threads.clone()
        };
        for purpose in &mend.tools {
            items.extend(self.tools(*purpose, subject, &ends)?);
        }
        if !by_bypass {
            return Ok(vec![Way {
                row,
                items: once(items),
                bypass: None,
            }]);
        }
        let found: Vec<Way> = self.by_bypass(row, &items, subject);
        if found.is_empty() {
            Err(Bar::NoMend)
        } else {
            Ok(found)
        }
    }

    fn by_bypass(&mut self, row: usize, items: &[usize], subject: &Subject) -> Vec<Way> {
        let mut found = Vec::new();
        for (number, bypass) in self.bypasses.iter().enumerate() {
            if subject
                .leads
                .iter()
                .all(|lead| bypass.covers.contains(lead))
            {
                let mut items = items.to_vec();
                items.push(self.pool.bypass(number, bypass, self.work.job.units));
                found.push(Way {
                    row,
                    items: once(items),
                    bypass: Some(number),
                });
            }
        }
        found
    }

    /// The harder of the two ends of the lead that a bypass lead would go on.
    fn both_ends(&self, subject: &Subject) -> Access {
        let leads = subject.leads.iter().map(|id| self.work.job.lead(*id));
        let places = leads.flat_map(|lead| [lead.from, lead.to]);
        let ends = places.map(|terminal| access(self.work, self.work.job.terminal(terminal).place));
        ends.max().unwrap_or(subject.access)
    }

    fn bypass_threads(&self, subject: &Subject) -> Vec<Thread> {
        let leads = subject.leads.iter();
        leads
            .flat_map(|lead| super::subject::studs_of(self.work, *lead))
            .collect()
    }

    fn parts(&mut self, part: MendingPart, subject: &Subject) -> Result<Vec<usize>, Bar> {
        match part {
            MendingPart::Same => {
                let id = subject.part.as_deref().ok_or(Bar::NoMend)?;
                self.take(id, 1).map(|item| vec![item])
            }
            MendingPart::NewEnd => {
                let end = self.end(subject).ok_or(Bar::NoMend)?.clone();
                let lug = end.lug.ok_or(Bar::NoMend)?;
                let sleeve = end.sleeve.ok_or(Bar::NoMend)?;
                Ok(vec![self.take(&lug, 1)?, self.take(&sleeve, 1)?])
            }
            MendingPart::Nut => self.hardware(
                subject,
                &[
                    (FastenerKind::Nut, 1),
                    (FastenerKind::PlainWasher, 2),
                    (FastenerKind::SpringWasher, 1),
                ],
            ),
            MendingPart::Bolt => self.hardware(
                subject,
                &[
                    (FastenerKind::Bolt, 1),
                    (FastenerKind::Nut, 1),
                    (FastenerKind::PlainWasher, 2),
                    (FastenerKind::SpringWasher, 1),
                ],
            ),
            // Bypass leads are alternatives, and are seen to apart.
            MendingPart::Bypass => Ok(Vec::new()),
        }
    }

    fn end(&self, subject: &Subject) -> Option<&End> {
        self.work.fittings.ends.get(subject.end?)
    }

    fn take(&mut self, id: &str, pieces: u32) -> Result<usize, Bar> {
        self.pool.part(id, pieces).ok_or(Bar::NotToBeHad)
    }

    fn hardware(
        &mut self,
        subject: &Subject,
        wanted: &[(FastenerKind, u32)],
    ) -> Result<Vec<usize>, Bar> {
        let thread = *subject.threads.first().ok_or(Bar::NoMend)?;
        let mut items = Vec::new();
        for (kind, pieces) in wanted {
            let id = self.fastener(*kind, thread).ok_or(Bar::NotToBeHad)?;
            items.push(self.take(&id, *pieces)?);
        }
        Ok(items)
    }

    /// The shortest fastener that does: bolts go through two lugs.
    fn fastener(&self, kind: FastenerKind, thread: Thread) -> Option<String> {
        let least = match kind {
            FastenerKind::Bolt => bolt_length(thread, 2),
            _ => Length::ZERO,
        };
        let length = |row: &&Fastener| row.length.unwrap_or(least);
        let rows = self.work.catalog.fasteners.iter();
        let rows = rows.filter(|row| row.kind == kind && row.thread == thread);
        let fitting = rows.filter(|row| length(row) >= least);
        let shortest = fitting.min_by(|a, b| length(a).total_cmp(&length(b)));
        shortest.map(|row| row.id.value.clone())
    }

    /// The lightest container for a use.
    fn consumable(&mut self, purpose: ConsumableUse) -> Result<usize, Bar> {
        let rows = self.work.catalog.consumables.iter();
        let rows = rows.filter(|row| row.purpose == purpose);
        let mass =
            |row: &&crate::catalog::Consumable| row.mass.map_or(f64::INFINITY, |mass| mass.kg());
        let lightest = rows.min_by(|a, b| mass(a).total_cmp(&mass(b)));
        let id = lightest
            .map(|row| row.id.value.clone())
            .ok_or(Bar::NotToBeHad)?;
        self.take(&id, 1)
    }

    fn tools(
        &mut self,
        purpose: ToolUse,
        subject: &Subject,
        threads: &[Thread],
    ) -> Result<Vec<usize>, Bar> {
        let ids: Vec<String> = match purpose {
            ToolUse::Wrench => {
                let wrenches = threads.iter().map(|thread| wrench(self.work, *thread));
                wrenches.collect::<Option<_>>().ok_or(Bar::NotToBeHad)?
            }
            ToolUse::Press => self.press(subject).ok_or(Bar::NotToBeHad)?,
            ToolUse::Cutter | ToolUse::Stripper => {
                let cable = self.diameter(subject).ok_or(Bar::NoMend)?;
                let takes = |tool: &&Tool| {
                    tool.least_cable.is_none_or(|least| cable >= least)
                        && tool.most_cable.is_none_or(|most| cable <= most)
                };
                let mut tools = self.of_use(purpose).filter(takes);
                // The last row of the catalog that does is the smaller tool of its kind.
                let first = tools.next_back().ok_or(Bar::NotToBeHad)?;
                vec![first.id.value.clone()]
            }
            other => {
                let first = self.of_use(other).next().ok_or(Bar::NotToBeHad)?;
                vec![first.id.value.clone()]
            }
        };
        ids.iter().map(|id| self.take(id, 1)).collect()
    }

    fn of_use(&self, purpose: ToolUse) -> impl DoubleEndedIterator<Item = &Tool> {
        let tools = self.work.catalog.tools.iter();
        tools.filter(move |tool| tool.purpose == purpose)
    }

    /// The die of a lug and the press that takes it.
    fn press(&self, subject: &Subject) -> Option<Vec<String>> {
        let lug = self.end(subject)?.lug.as_deref()?;
        let lug = self.work.catalog.lugs.iter().find(|row| *row.id == lug)?;
        let die = self
            .work
            .catalog
            .dies
            .iter()
            .find(|row| *row.id == lug.die)?;
        Some(vec![die.press.clone(), die.id.value.clone()])
    }

    fn diameter(&self, subject: &Subject) -> Option<Length> {
        let lead = self.work.sizing.leads.get(subject.leads.first()?.0)?;
        Some(lead.outer_diameter)
    }
}

/// Id of the wrench for a thread.
pub(super) fn wrench(work: &Work<'_>, thread: Thread) -> Option<String> {
    /// Sizes in tables are stated to a hundredth of a millimetre at the finest.
    const HAIR_MM: f64 = 0.005;
    let across = work.catalog.thread(thread)?.across_flats;
    let mut tools = work.catalog.tools.iter();
    let same = |size: Length| (size - across).mm().abs() < HAIR_MM;
    let tool = tools.find(|tool| tool.purpose == ToolUse::Wrench && tool.size.is_some_and(same));
    tool.map(|tool| tool.id.value.clone())
}

fn once(mut items: Vec<usize>) -> Vec<usize> {
    items.sort_unstable();
    items.dedup();
    items
}
