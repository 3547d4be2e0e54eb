//! Shares out the width of a table among its columns.

/// The room a column needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// Below this, words would be cut apart.
    pub minimum: f32,
    /// At this, nothing wraps.
    pub natural: f32,
}

/// The widths of the columns, or none if they cannot all have their minimum.
///
/// Every column gets its natural width where there is room. Otherwise narrow
/// columns keep their natural width, and the wide ones share the rest evenly.
pub fn share_out(needs: &[Need], available: f32) -> Option<Vec<f32>> {
    let minimum: f32 = needs.iter().map(|need| need.minimum).sum();
    if minimum > available {
        return None;
    }
    let natural: f32 = needs.iter().map(|need| need.natural).sum();
    let limit = if natural <= available {
        f32::MAX
    } else {
        common_limit(needs, available)
    };
    Some(needs.iter().map(|need| held_to(need, limit)).collect())
}

/// As [`share_out`], but cuts words apart rather than give up: the columns with
/// the longest words give way first.
pub fn squeeze(needs: &[Need], available: f32) -> Vec<f32> {
    let words_cut_apart = |need: &Need| Need {
        minimum: 0.0,
        natural: need.minimum,
    };
    let squeezed: Vec<Need> = needs.iter().map(words_cut_apart).collect();
    share_out(needs, available)
        .or_else(|| share_out(&squeezed, available))
        .unwrap_or_else(|| vec![available.max(0.0) / needs.len() as f32; needs.len()])
}

/// A column's width when no column may take more than `limit` beyond its needs.
fn held_to(need: &Need, limit: f32) -> f32 {
    need.natural.min(limit).max(need.minimum)
}

/// The limit at which the columns together fill what is available.
fn common_limit(needs: &[Need], available: f32) -> f32 {
    let total = |limit: f32| -> f32 { needs.iter().map(|need| held_to(need, limit)).sum() };
    let (mut low, mut high) = (0.0, available);
    // Forty halvings are finer than a single-precision number can tell apart.
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        if total(middle) <= available {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn need(minimum: f32, natural: f32) -> Need {
        Need { minimum, natural }
    }

    #[test]
    fn narrow_columns_keep_their_width_and_wide_ones_share() {
        let widths = share_out(&[need(2.0, 4.0), need(8.0, 90.0), need(8.0, 70.0)], 64.0).unwrap();
        assert_eq!(widths[0], 4.0);
        assert!((widths[1] - 30.0).abs() < 0.01 && (widths[2] - 30.0).abs() < 0.01);
    }

    #[test]
    fn too_many_columns_are_refused_or_squeezed() {
        let needs = [need(40.0, 60.0), need(5.0, 5.0)];
        assert_eq!(share_out(&needs, 30.0), None);
        let widths = squeeze(&needs, 30.0);
        assert!((widths[0] - 25.0).abs() < 0.01 && widths[1] == 5.0);
    }

    proptest! {
        #[test]
        fn widths_stay_within_bounds(needs in proptest::collection::vec((0.0_f32..20.0, 0.0_f32..80.0), 1..9), available in 10.0_f32..200.0) {
            let needs: Vec<Need> = needs.iter().map(|(low, more)| need(*low, low + more)).collect();
            if let Some(widths) = share_out(&needs, available) {
                prop_assert!(widths.iter().sum::<f32>() <= available + 0.01);
                for (width, need) in widths.iter().zip(&needs) {
                    prop_assert!(*width >= need.minimum && *width <= need.natural);
                }
            }
            prop_assert!(squeeze(&needs, available).iter().sum::<f32>() <= available + 0.01);
        }
    }
}
