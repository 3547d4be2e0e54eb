//! The words of a shop file.

use rust_decimal::RoundingStrategy;

use crate::file::words;

words! {
    /// Which way an amount in the middle between two goes.
    pub enum RoundingRule as "a rule of rounding" {
        /// Up: 0.125 becomes 0.13.
        HalfUp = "half-up",
        /// To the even digit: 0.125 becomes 0.12, 0.135 becomes 0.14.
        HalfEven = "half-even",
    }
}

impl RoundingRule {
    /// The same for exact decimals.
    pub const fn strategy(self) -> RoundingStrategy {
        match self {
            Self::HalfUp => RoundingStrategy::MidpointAwayFromZero,
            Self::HalfEven => RoundingStrategy::MidpointNearestEven,
        }
    }
}

words! {
    /// How the prices of a quote are shown.
    pub enum PricesShown as "a way to show prices" {
        /// Without tax, which comes on top of their sum.
        BeforeTax = "before tax",
        /// With the tax inside; how much of it there is, is told below the sum.
        TaxInside = "tax inside",
    }
}

words! {
    /// On what tax is reckoned and rounded.
    pub enum TaxOn as "what tax is reckoned on" {
        /// On the total, and rounded once.
        Total = "total",
        /// On each line, and rounded on each.
        EachLine = "each line",
    }
}

words! {
    /// Where work is done.
    pub enum Workplace as "a place of work" {
        /// At the bench.
        Bench = "bench",
        /// At or in the vehicle.
        Vehicle = "vehicle",
    }
}
