//! Costs as a relaxation sees them.

use super::Amount;

/// Parts into which a unit of cost is divided, so that rebates are whole numbers too.
pub(super) const SCALE: Amount = 256;

/// Who is asked, and what a minor unit spent with each is worth beyond the goods.
#[derive(Debug, Clone, Copy)]
pub(super) struct Prices<'a> {
    /// A bit for each supplier that is asked.
    pub open: u64,
    /// Worth of one minor unit spent with each supplier, in parts of a unit of cost.
    pub rebates: &'a [Amount],
    /// Cost of one minor unit of each supplier's prices.
    pub weights: &'a [Amount],
}

impl Prices<'_> {
    /// Whether a supplier is asked.
    pub(super) fn is_open(self, supplier: usize) -> bool {
        self.open & (1 << supplier) != 0
    }

    /// What a price counts, in parts of a unit of cost.
    pub(super) fn reduced(self, supplier: usize, price: Amount) -> Amount {
        price * (SCALE * self.weights[supplier] - self.rebates[supplier])
    }
}

/// The least whole cost that is not below a bound in parts of a unit.
pub(super) fn whole(bound: Amount) -> Amount {
    bound.div_euclid(SCALE) + Amount::from(bound.rem_euclid(SCALE) > 0)
}
