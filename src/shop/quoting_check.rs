//! Contradictions in what a shop file says about prices for customers.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Deposit, ShopFile};
use crate::diagnostic::{Diagnostic, Problem, Span, Spanned};
use crate::quantity::Money;

/// Seconds of a hundredth of an hour.
const HUNDREDTH_OF_AN_HOUR_S: f64 = 36.0;

/// The longest time that a quote may stand: ten years.
const MOST_DAYS: u32 = 3650;

/// Every mistake.
pub fn check(shop: &ShopFile) -> Vec<Diagnostic> {
    let mut mistakes = Vec::new();
    let mut wrong = |problem: Problem, span: Span| mistakes.push(Diagnostic::new(problem, span));
    if shop.tax.fraction() > Decimal::ONE {
        wrong(
            Problem::out_of_range("the tax", "at most 100 %"),
            shop.tax.span,
        );
    }
    let step = shop.labour_step.value.s() / HUNDREDTH_OF_AN_HOUR_S;
    if step < 0.5 || (step - step.round()).abs() > 1e-6 {
        let range = "a whole number of hundredths of an hour, such as \"6 min\" or \"15 min\"";
        wrong(
            Problem::out_of_range("the step of labour", range),
            shop.labour_step.span,
        );
    }
    if !(1..=MOST_DAYS).contains(&shop.valid_days.value) {
        wrong(
            Problem::out_of_range("the validity", "1 to 3650 days"),
            shop.valid_days.span,
        );
    }
    if let Some(step) = &shop.cash_step
        && step.value == Money::ZERO
    {
        wrong(
            Problem::contradiction("a step of cash cannot be nothing"),
            step.span,
        );
    }
    if let Some(deposit) = &shop.deposit
        && let Deposit::Share(share) = deposit.value
        && share.fraction() > Decimal::ONE
    {
        wrong(
            Problem::out_of_range("the deposit", "at most 100 % of what is to be paid"),
            deposit.span,
        );
    }
    for amount in amounts(shop) {
        if !amount.payable_in(shop.currency) {
            let currency = shop.currency;
            wrong(Problem::TooManyDigits { currency }, amount.span);
        }
    }
    mistakes.extend(rates(shop));
    mistakes.extend(markups(shop));
    mistakes
}

/// Amounts in the shop's currency.
fn amounts(shop: &ShopFile) -> Vec<Spanned<Money>> {
    let deposit = shop
        .deposit
        .as_ref()
        .and_then(|deposit| match deposit.value {
            Deposit::Amount(value) => Some(Spanned {
                value,
                span: deposit.span,
            }),
            Deposit::Share(_) => None,
        });
    let mut amounts = vec![shop.labour_rate.clone()];
    amounts.extend(shop.labour_cost.clone());
    amounts.extend(shop.cash_step.clone());
    amounts.extend(deposit);
    for rate in &shop.rate {
        amounts.push(rate.hour.clone());
        amounts.extend(rate.cost.clone());
    }
    amounts
}

/// Each place of work has one rate at most, and each rate is for one at least.
fn rates(shop: &ShopFile) -> Vec<Diagnostic> {
    let mut seen = BTreeMap::new();
    let mut mistakes = Vec::new();
    for rate in &shop.rate {
        if rate.work.is_empty() {
            let reason = format!("the rate `{}` is for no work", *rate.name);
            let problem = Problem::contradiction_with_help(
                reason,
                "name some under `work`: \"bench\", \"vehicle\"",
            );
            mistakes.push(Diagnostic::new(problem, rate.name.span));
        }
        for work in &rate.work {
            if let Some(first) = seen.insert(*work, rate.name.span) {
                let reason = format!("there are two rates for work at the {work}");
                let mistake = Diagnostic::new(Problem::contradiction(reason), rate.name.span);
                mistakes.push(mistake.with_related(first, "the other is here"));
            }
        }
    }
    mistakes
}

/// Each kind of part has one markup at most.
fn markups(shop: &ShopFile) -> Vec<Diagnostic> {
    let mut seen = BTreeMap::new();
    let mut mistakes = Vec::new();
    for row in &shop.markup_on {
        if row.kinds.is_empty() {
            let reason = "this markup is for no kind of part";
            let problem = Problem::contradiction_with_help(
                reason,
                "name some under `kinds`, such as [\"cable\", \"lug\"]",
            );
            mistakes.push(Diagnostic::new(problem, row.span));
        }
        for kind in &row.kinds {
            if let Some(first) = seen.insert(*kind, row.span) {
                let reason = format!("there are two markups on the kind `{kind}`");
                let mistake = Diagnostic::new(Problem::contradiction(reason), row.span);
                mistakes.push(mistake.with_related(first, "the other is here"));
            }
        }
    }
    mistakes
}
