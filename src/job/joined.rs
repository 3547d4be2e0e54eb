//! What is joined to what.

use super::model::{Device, Job};

/// For each of so many points the least of all those that pairs join to it, straight or by way of
/// others.
pub fn joined(points: usize, pairs: impl IntoIterator<Item = (usize, usize)>) -> Vec<usize> {
    let mut root: Vec<usize> = (0..points).collect();
    for (a, b) in pairs {
        let (a, b) = (find(&mut root, a), find(&mut root, b));
        root[a.max(b)] = a.min(b);
    }
    (0..points).map(|point| find(&mut root, point)).collect()
}

fn find(root: &mut [usize], mut point: usize) -> usize {
    while root[point] != point {
        // Halving the way keeps later searches short.
        root[point] = root[root[point]];
        point = root[point];
    }
    point
}

impl Job {
    /// For each terminal the smallest terminal of those that leads, bonds and devices join to it.
    pub fn groups(&self) -> Vec<usize> {
        self.groups_through(|_| true)
    }

    /// The same where only some devices are closed.
    pub fn groups_through(&self, closed: impl Fn(&Device) -> bool) -> Vec<usize> {
        let leads = self.leads.iter().map(|lead| (lead.from, lead.to));
        let bonds = self.bonds.iter().map(|bond| (bond.from, bond.to));
        let devices = self.devices.iter().filter(|device| closed(device));
        let devices = devices.map(|device| (device.input, device.output));
        let pairs = leads.chain(bonds).chain(devices);
        joined(self.terminals.len(), pairs.map(|(a, b)| (a.0, b.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_point_is_known_by_the_least_of_those_joined_to_it() {
        let pairs = [(4, 2), (5, 4), (1, 3)];
        assert_eq!(joined(7, pairs), [0, 1, 2, 1, 2, 2, 6]);
    }
}
