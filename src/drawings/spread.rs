//! Labels beside a line, moved apart so that none hides another.

/// Where labels go that want to stand at places, each as high as told, in the order of the places:
/// none overlaps another, and the sum of the squared moves is least.
///
/// Places must not fall. Labels that touch move together as one group, to the mean of what its
/// members want (pool adjacent violators, the usual algorithm for isotonic regression).
pub(super) fn spread(wanted: &[f64], heights: &[f64]) -> Vec<f64> {
    /// Labels that touch: how many, the sum of where its first one is wanted by each.
    struct Group {
        count: usize,
        sum: f64,
    }
    let mut before = Vec::with_capacity(wanted.len());
    let mut total = 0.0;
    for height in heights {
        before.push(total);
        total += height;
    }
    let mut groups: Vec<Group> = Vec::new();
    for (want, stacked) in wanted.iter().zip(&before) {
        let mut group = Group {
            count: 1,
            sum: want - stacked,
        };
        while let Some(last) = groups.last() {
            let (mine, others) = (group.sum / group.count as f64, last.sum / last.count as f64);
            if others <= mine {
                break;
            }
            group.count += last.count;
            group.sum += last.sum;
            groups.pop();
        }
        groups.push(group);
    }
    let starts = groups
        .iter()
        .flat_map(|group| std::iter::repeat_n(group.sum / group.count as f64, group.count));
    starts
        .zip(&before)
        .map(|(start, stacked)| start + stacked)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn labels_with_room_stay_where_they_are() {
        assert_eq!(spread(&[0.0, 10.0, 20.0], &[4.0; 3]), [0.0, 10.0, 20.0]);
    }

    #[test]
    fn labels_that_touch_share_the_move() {
        // Two labels of 4 mm that both want to stand at 10 mm: one 2 mm up, the other 2 mm down.
        assert_eq!(spread(&[10.0, 10.0], &[4.0; 2]), [8.0, 12.0]);
        // A third that the pair then touches joins them: 10, 10 and 13 less 0, 4 and 8 is 7 on average.
        assert_eq!(spread(&[10.0, 10.0, 13.0], &[4.0; 3]), [7.0, 11.0, 15.0]);
    }

    #[test]
    fn a_high_label_pushes_the_next_one_further() {
        assert_eq!(spread(&[0.0, 1.0], &[9.0, 4.0]), [-4.0, 5.0]);
    }
}
