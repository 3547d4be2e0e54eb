//! Looking names up, and naming terminals.

use super::Resolver;
use crate::catalog::{Catalog, Polarity};
use crate::diagnostic::{Problem, Subject};
use crate::job::file::Name;
use crate::job::id::{PlaceId, TerminalId};
use crate::job::model::{Owner, Stud, Terminal};

/// What a terminal is, apart from its name.
#[derive(Clone, Copy)]
pub struct Kind {
    /// Where it is.
    pub place: PlaceId,
    /// Whose it is.
    pub owner: Owner,
    /// What a lug goes on.
    pub stud: Stud,
}

impl Resolver<'_> {
    /// The place with a name; a stand-in after a mistake.
    pub(super) fn place(&mut self, name: &Name) -> PlaceId {
        let found = self.places.find(name, &mut self.mistakes);
        PlaceId(found.unwrap_or_default())
    }

    pub(super) fn places(&mut self, names: &[Name]) -> Vec<PlaceId> {
        names.iter().map(|name| self.place(name)).collect()
    }

    pub(super) fn find_terminal(&mut self, name: &Name) -> Option<TerminalId> {
        let found = self.terminals.find(name, &mut self.mistakes);
        found.map(TerminalId)
    }

    pub(super) fn require(&mut self, subject: Subject, name: &Name, known: &[&str]) {
        // A blank name takes the place of one that was reported already.
        if !name.value.is_empty() && !known.contains(&name.value.as_str()) {
            let problem = Problem::unknown_name(subject, &name.value, known.iter().copied());
            self.report(problem, name.span);
        }
    }

    /// Names a terminal `NAME END`, or just `NAME`.
    pub(super) fn terminal(
        &mut self,
        item: &Name,
        end: Option<&str>,
        kind: Kind,
        pole: Option<Polarity>,
    ) -> TerminalId {
        let name = match end {
            Some(end) => format!("{} {end}", item.value),
            None => item.value.clone(),
        };
        let id = self.list.len();
        let mut clashes = Vec::new();
        self.terminals.insert(&name, id, item.span, &mut clashes);
        // The terminals of an item named twice clash too, but the item was reported.
        if self.items.is_first(item) {
            self.mistakes.append(&mut clashes);
        }
        self.list.push(Terminal {
            name,
            place: kind.place,
            owner: kind.owner,
            stud: kind.stud,
            pole,
        });
        TerminalId(id)
    }

    pub(super) fn positive(&mut self, item: &Name, kind: Kind) -> TerminalId {
        self.terminal(item, Some("+"), kind, Some(Polarity::Positive))
    }

    /// The negative terminal: the chassis point of the case, or a stud of its own.
    pub(super) fn negative(&mut self, item: &Name, case: Option<&Name>, kind: Kind) -> TerminalId {
        let case = case.and_then(|case| self.chassis_point(case));
        case.unwrap_or_else(|| self.terminal(item, Some("-"), kind, Some(Polarity::Negative)))
    }

    pub(super) fn chassis_point(&mut self, name: &Name) -> Option<TerminalId> {
        let index = self.chassis.find(name, &mut self.mistakes)?;
        self.chassis_points.get(index).copied()
    }
}

/// Ids of everything that may stand in a lead as a device.
pub fn device_ids(catalog: &Catalog) -> Vec<&str> {
    let switches = catalog.switches.iter().map(|row| row.id.as_str());
    switches
        .chain(catalog.contactors.iter().map(|row| row.id.as_str()))
        .chain(catalog.connectors.iter().map(|row| row.id.as_str()))
        .collect()
}
