//! What a step waits for, told without what follows from it.

use std::collections::BTreeSet;

/// For each draft the drafts that it waits for, without those that another of them waits for
/// anyway. `order` is an order in which every draft stands behind all that it waits for.
pub fn straight(waits: &[BTreeSet<usize>], order: &[usize]) -> Vec<BTreeSet<usize>> {
    let mut before = vec![vec![false; waits.len()]; waits.len()];
    let mut straight = vec![BTreeSet::new(); waits.len()];
    for draft in order {
        let needs = &waits[*draft];
        let mut implied = vec![false; waits.len()];
        for need in needs {
            for (flag, earlier) in implied.iter_mut().zip(&before[*need]) {
                *flag |= *earlier;
            }
        }
        let told = needs.iter().copied().filter(|need| !implied[*need]);
        straight[*draft] = told.collect();
        for need in needs {
            implied[*need] = true;
        }
        before[*draft] = implied;
    }
    straight
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_follows_from_another_need_is_not_told() {
        let waits = [vec![], vec![0], vec![0, 1], vec![0, 2]].map(BTreeSet::from_iter);
        let told = straight(&waits, &[0, 1, 2, 3]);
        let expected = [vec![], vec![0], vec![1], vec![2]].map(BTreeSet::from_iter);
        assert_eq!(told, expected);
    }
}
