//! Joints of a network that are the only way between its two sides.

/// Which of the joints, given as pairs of nodes, lie on no ring.
///
/// Depth-first search: a joint is the only way when nothing found beyond it leads back before it.
pub fn bridges(nodes: usize, pairs: &[(usize, usize)]) -> Vec<bool> {
    let mut joints_at = vec![Vec::new(); nodes];
    for (joint, (a, b)) in pairs.iter().enumerate() {
        joints_at[*a].push(joint);
        joints_at[*b].push(joint);
    }
    let mut search = Search {
        pairs,
        joints_at,
        found_at: vec![usize::MAX; nodes],
        leads_back_to: vec![usize::MAX; nodes],
        only_way: vec![false; pairs.len()],
        count: 0,
    };
    for node in 0..nodes {
        if search.found_at[node] == usize::MAX {
            search.from(node);
        }
    }
    search.only_way
}

struct Search<'a> {
    pairs: &'a [(usize, usize)],
    joints_at: Vec<Vec<usize>>,
    /// When each node was found.
    found_at: Vec<usize>,
    /// The earliest node that each leads back to.
    leads_back_to: Vec<usize>,
    only_way: Vec<bool>,
    count: usize,
}

/// A node on the way, the joint it was reached by, and the next joint to look at.
struct Visit {
    node: usize,
    by: Option<usize>,
    next: usize,
}

impl Search<'_> {
    fn from(&mut self, start: usize) {
        let mut way = vec![self.visit(start, None)];
        while let Some(visit) = way.last_mut() {
            let Some(joint) = self.joints_at[visit.node].get(visit.next).copied() else {
                let done = way.pop();
                self.close(done.as_ref(), way.last());
                continue;
            };
            visit.next += 1;
            let (node, by) = (visit.node, visit.by);
            let (a, b) = self.pairs[joint];
            let other = if a == node { b } else { a };
            if by == Some(joint) || other == node {
                continue;
            }
            if self.found_at[other] == usize::MAX {
                way.push(self.visit(other, Some(joint)));
            } else {
                self.leads_back_to[node] = self.leads_back_to[node].min(self.found_at[other]);
            }
        }
    }

    fn visit(&mut self, node: usize, by: Option<usize>) -> Visit {
        self.found_at[node] = self.count;
        self.leads_back_to[node] = self.count;
        self.count += 1;
        Visit { node, by, next: 0 }
    }

    fn close(&mut self, done: Option<&Visit>, before: Option<&Visit>) {
        let (Some(done), Some(before)) = (done, before) else {
            return;
        };
        let back = self.leads_back_to[done.node];
        self.leads_back_to[before.node] = self.leads_back_to[before.node].min(back);
        if let Some(joint) = done.by {
            self.only_way[joint] = back > self.found_at[before.node];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_has_no_only_way_and_its_spurs_are_all() {
        // A ring 0-1-2, a spur 2-3, and two parallel joints 3-4.
        let pairs = [(0, 1), (1, 2), (2, 0), (2, 3), (3, 4), (4, 3)];
        assert_eq!(
            bridges(6, &pairs),
            [false, false, false, true, false, false]
        );
    }
}
