//! Prices, tax and what is to be paid, with every rounding where the shop file puts it.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::quantity::{Currency, Markup, Money, Percent};
use crate::shop::{PricesShown, RoundingRule, ShopFile, TaxOn};

/// How the amounts of a quote come about.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TaxRule {
    /// Tax.
    pub tax: Percent,
    /// How prices are shown.
    pub prices: PricesShown,
    /// On what tax is reckoned and rounded.
    pub tax_on: TaxOn,
    /// Which way a middle goes.
    pub rounding: RoundingRule,
    /// The smallest coin.
    pub cash_step: Option<Money>,
}

impl TaxRule {
    /// The rule of a shop for a quote in a currency; without the smallest coin where the two differ.
    pub fn of(shop: &ShopFile, currency: Currency) -> Self {
        let own = shop.currency == currency;
        let step = shop.cash_step.as_ref().filter(|_| own);
        Self {
            tax: shop.tax.value,
            prices: shop.prices,
            tax_on: shop.tax_on,
            rounding: shop.rounding,
            cash_step: step.map(|step| step.value),
        }
    }

    /// An exact amount, rounded to the minor unit.
    pub fn rounded(&self, exact: Decimal, currency: Currency) -> Money {
        Money::from_decimal(exact).rounded_by(self.rounding.strategy(), currency)
    }

    /// A cost with its markup.
    pub fn marked_up(&self, cost: Money, markup: Markup, currency: Currency) -> Money {
        self.rounded(cost.decimal() * markup.factor(), currency)
    }

    /// The tax that comes on top of an amount.
    fn on_top(&self, net: Money, currency: Currency) -> Money {
        self.rounded(net.decimal() * self.tax.fraction(), currency)
    }

    /// The tax inside an amount.
    fn inside(&self, gross: Money, currency: Currency) -> Money {
        let fraction = self.tax.fraction();
        // The divisor is one at least. A quotient whose digits never end is no midpoint.
        let exact = gross.decimal() * fraction / (Decimal::ONE + fraction);
        self.rounded(exact, currency)
    }

    /// An amount that can be paid in coins.
    pub fn payable(&self, amount: Money) -> Money {
        match self.cash_step {
            Some(step) => amount.to_multiple(step, self.rounding.strategy()),
            None => amount,
        }
    }
}

/// What a line comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Settled {
    /// The price as it is shown.
    pub shown: Money,
    /// The tax on it or inside it, where tax is reckoned on each line.
    pub tax: Option<Money>,
}

/// What all lines come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Sums {
    /// The price before tax.
    pub net: Money,
    /// The tax.
    pub tax: Money,
    /// Both together.
    pub total: Money,
    /// What rounding to the smallest coin adds; below nothing it takes off.
    pub cash_rounding: Money,
    /// What is to be paid.
    pub due: Money,
}

/// Settles lines, each given before tax and rounded to the minor unit.
///
/// With prices before tax the tax comes on top of their sum, or of each. With tax inside, each line
/// is shown with it, and the tax is taken out of the total, or of each line.
pub fn settle(nets: &[Money], rule: &TaxRule, currency: Currency) -> (Vec<Settled>, Sums) {
    let factor = Decimal::ONE + rule.tax.fraction();
    let shown: Vec<Money> = match rule.prices {
        PricesShown::BeforeTax => nets.to_vec(),
        PricesShown::TaxInside => {
            let gross = |net: &Money| rule.rounded(net.decimal() * factor, currency);
            nets.iter().map(gross).collect()
        }
    };
    let tax_of = |amount: Money| match rule.prices {
        PricesShown::BeforeTax => rule.on_top(amount, currency),
        PricesShown::TaxInside => rule.inside(amount, currency),
    };
    let each = |shown: Money| Settled {
        shown,
        tax: (rule.tax_on == TaxOn::EachLine).then(|| tax_of(shown)),
    };
    let lines: Vec<Settled> = shown.into_iter().map(each).collect();
    let sum = lines
        .iter()
        .map(|line| line.shown)
        .sum::<Money>()
        .rounded(currency);
    let tax = match rule.tax_on {
        TaxOn::Total => tax_of(sum),
        TaxOn::EachLine => lines.iter().filter_map(|line| line.tax).sum(),
    };
    let (net, total) = match rule.prices {
        PricesShown::BeforeTax => (sum, sum + tax),
        PricesShown::TaxInside => (sum - tax, sum),
    };
    let due = rule.payable(total).rounded(currency);
    let sums = Sums {
        net: net.rounded(currency),
        tax: tax.rounded(currency),
        total: total.rounded(currency),
        cash_rounding: (due - total).rounded(currency),
        due,
    };
    (lines, sums)
}
