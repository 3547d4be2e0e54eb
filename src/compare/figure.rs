//! The figures by which plans are compared, and which way is better.

use super::column::{Column, Finding};
use crate::check::Verdict;
use crate::file::words;

words! {
    /// A figure of a plan.
    pub enum Figure as "a figure of a plan" {
        /// Material with delivery and tax.
        Price = "price",
        /// Tools and dies that are not owned.
        Tools = "tools to buy",
        /// Hours of work.
        Labour = "labour",
        /// Mass of the cable.
        CableMass = "mass of cable",
        /// Mass of all that stays in the vehicle.
        PartsMass = "mass of all parts",
        /// Lowest volts at the starter.
        Cranking = "cranking volts, worst",
        /// Lowest volts at a sensitive load.
        Sensitive = "sensitive loads, lowest",
        /// Hottest cable.
        Hottest = "hottest cable",
        /// Slowest device to open on a dead short.
        Clearing = "slowest clearing",
        /// Positive lead without protection.
        Bare = "not protected",
        /// Checks that fail.
        Failing = "checks that fail",
        /// Checks that could not be judged.
        Open = "checks that are open",
    }
}

impl Figure {
    /// All, in the order of the comparison.
    pub const ALL: [Self; 12] = [
        Self::Price,
        Self::Tools,
        Self::Labour,
        Self::CableMass,
        Self::PartsMass,
        Self::Cranking,
        Self::Sensitive,
        Self::Hottest,
        Self::Clearing,
        Self::Bare,
        Self::Failing,
        Self::Open,
    ];

    /// Whether more of it is better.
    pub const fn more_is_better(self) -> bool {
        matches!(self, Self::Cranking | Self::Sensitive)
    }

    /// Whether two plans can be held against each other in it.
    pub fn is_comparable(self, one: &Column, other: &Column) -> bool {
        match self {
            Self::Price | Self::Tools => one.currency == other.currency,
            Self::Cranking | Self::Sensitive => one.system_voltage_v == other.system_voltage_v,
            _ => true,
        }
    }

    /// Its unit; money is in the column's currency.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Price | Self::Tools | Self::Failing | Self::Open => "",
            Self::Labour => "h",
            Self::CableMass | Self::PartsMass => "kg",
            Self::Cranking | Self::Sensitive => "V",
            Self::Hottest => "°C",
            Self::Clearing => "s",
            Self::Bare => "m",
        }
    }

    /// Digits after the point that are worth comparing; money has those of its currency.
    pub fn places(self, column: &Column) -> usize {
        match self {
            Self::Price | Self::Tools => column.currency.minor_digits() as usize,
            Self::Failing | Self::Open | Self::Hottest => 0,
            Self::Labour | Self::CableMass | Self::PartsMass => 1,
            Self::Cranking | Self::Sensitive | Self::Clearing | Self::Bare => 2,
        }
    }

    /// Its value in a plan; none where the job has nothing of the kind.
    pub fn value(self, column: &Column) -> Option<f64> {
        let money = |amount: crate::quantity::Money| f64::try_from(amount.decimal()).ok();
        let of = |finding: &Option<Finding>| finding.as_ref().map(|finding| finding.value);
        match self {
            Self::Price => money(column.price),
            Self::Tools => money(column.tools),
            Self::Labour => Some(column.labour_h),
            Self::CableMass => Some(column.cable_kg),
            Self::PartsMass => Some(column.parts_kg),
            Self::Cranking => of(&column.cranking),
            Self::Sensitive => of(&column.sensitive),
            Self::Hottest => of(&column.hottest),
            Self::Clearing => of(&column.clearing),
            Self::Bare => Some(column.bare.m()),
            Self::Failing => Some(column.count(Verdict::Fail) as f64),
            Self::Open => Some(column.count(Verdict::Open) as f64),
        }
    }

    /// What it was found at.
    pub fn at(self, column: &Column) -> Option<&str> {
        let finding = match self {
            Self::Cranking => &column.cranking,
            Self::Sensitive => &column.sensitive,
            Self::Hottest => &column.hottest,
            Self::Clearing => &column.clearing,
            _ => &None,
        };
        finding.as_ref().map(|finding| finding.at.as_str())
    }
}
