//! Prices, tax and rounding against a reckoning in whole minor units, and against figures worked
//! out by hand.

#![allow(clippy::unwrap_used)]

use rust_decimal::Decimal;

use super::{Settled, Sums, TaxRule, settle};
use crate::quantity::{Currency, Markup, Money, Percent, Quantity};
use crate::shop::{PricesShown, RoundingRule, TaxOn};

fn money(text: &str) -> Money {
    Money::parse(text).unwrap()
}

fn rule(tax: &str, prices: PricesShown, tax_on: TaxOn, rounding: RoundingRule) -> TaxRule {
    TaxRule {
        tax: Percent::parse(tax).unwrap(),
        prices,
        tax_on,
        rounding,
        cash_step: None,
    }
}

/// Numbers that come out the same on every machine: a linear congruential generator with the
/// multiplier of Knuth's MMIX.
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = self.0.wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % (most + 1)
    }
}

/// A quotient of whole numbers rounded to a whole number, by its remainder alone.
fn rounded(above: i128, below: i128, rule: RoundingRule) -> i128 {
    let (whole, twice) = (above.div_euclid(below), 2 * above.rem_euclid(below));
    let up = match rule {
        _ if twice != below => twice > below,
        RoundingRule::HalfUp => true,
        RoundingRule::HalfEven => whole % 2 != 0,
    };
    whole + i128::from(up)
}

/// A quote in whole minor units; tax and markup in millionths of a percent.
struct Plain {
    lines: Vec<(i128, Option<i128>)>,
    net: i128,
    tax: i128,
    total: i128,
    due: i128,
}

/// A hundred percent, in millionths of a percent.
const WHOLE: i128 = 100_000_000;

fn plainly(nets: &[i128], tax: i128, rule: &TaxRule, coin: Option<i128>) -> Plain {
    let way = rule.rounding;
    let inside = rule.prices == PricesShown::TaxInside;
    let tax_of = |shown: i128| match inside {
        true => rounded(shown * tax, WHOLE + tax, way),
        false => rounded(shown * tax, WHOLE, way),
    };
    let each = rule.tax_on == TaxOn::EachLine;
    let line = |net: &i128| {
        let shown = if inside {
            rounded(net * (WHOLE + tax), WHOLE, way)
        } else {
            *net
        };
        (shown, each.then(|| tax_of(shown)))
    };
    let lines: Vec<(i128, Option<i128>)> = nets.iter().map(line).collect();
    let sum: i128 = lines.iter().map(|line| line.0).sum();
    let taxes: i128 = match each {
        true => lines.iter().filter_map(|line| line.1).sum(),
        false => tax_of(sum),
    };
    let (net, total) = if inside {
        (sum - taxes, sum)
    } else {
        (sum, sum + taxes)
    };
    let due = coin.map_or(total, |coin| rounded(total, coin, way) * coin);
    Plain {
        lines,
        net,
        tax: taxes,
        total,
        due,
    }
}

fn minor(amount: Money, currency: Currency) -> i128 {
    let scaled = amount.decimal() * Decimal::from(10_u64.pow(currency.minor_digits()));
    assert!(
        scaled.fract().is_zero(),
        "{amount} is finer than {currency}"
    );
    scaled.trunc().mantissa() / 10_i128.pow(scaled.trunc().scale())
}

fn of_minor(minor: i128, currency: Currency) -> Money {
    Money::from_decimal(Decimal::from_i128_with_scale(
        minor,
        currency.minor_digits(),
    ))
}

fn percent(millionths: i128) -> String {
    format!("{} %", Decimal::from_i128_with_scale(millionths, 6))
}

/// Costs with their markups, tax and coins by the dice; every amount as whole numbers give it.
#[test]
fn ten_thousand_random_quotes_round_as_written() {
    let mut dice = Dice(20_261_125);
    let currencies = ["EUR", "JPY", "TND", "USD"].map(|code| Currency::parse(code).unwrap());
    for _ in 0..10_000 {
        let currency = currencies[dice.up_to(3) as usize];
        let tax = match dice.up_to(3) {
            0 => 20 * 1_000_000,
            1 => 8_100_000,
            2 => i128::from(dice.up_to(100_000_000)),
            _ => 0,
        };
        let rounding = [RoundingRule::HalfUp, RoundingRule::HalfEven][dice.up_to(1) as usize];
        let prices = [PricesShown::BeforeTax, PricesShown::TaxInside][dice.up_to(1) as usize];
        let tax_on = [TaxOn::Total, TaxOn::EachLine][dice.up_to(1) as usize];
        let coin = [None, Some(5), Some(10), Some(25)][dice.up_to(3) as usize];
        let rule = TaxRule {
            cash_step: coin.map(|coin| of_minor(coin, currency)),
            ..rule(&percent(tax), prices, tax_on, rounding)
        };
        let mut nets = Vec::new();
        for _ in 0..dice.up_to(12) {
            let cost = i128::from(dice.up_to(1_000_000));
            // Half percents are common, and make middles of even costs.
            let markup = match dice.up_to(2) {
                0 => i128::from(dice.up_to(400)) * 500_000,
                1 => i128::from(dice.up_to(300_000_000)) - 100_000_000,
                _ => 25_000_000,
            };
            let given = Markup::parse(&percent(markup)).unwrap();
            let price = rule.marked_up(of_minor(cost, currency), given, currency);
            let expected = rounded(cost * (WHOLE + markup), WHOLE, rounding);
            assert_eq!(minor(price, currency), expected, "{cost} with {given}");
            nets.push(expected);
        }
        let given: Vec<Money> = nets.iter().map(|net| of_minor(*net, currency)).collect();
        let (lines, sums) = settle(&given, &rule, currency);
        let plain = plainly(&nets, tax, &rule, coin);
        let found: Vec<(i128, Option<i128>)> = lines
            .iter()
            .map(|line| {
                (
                    minor(line.shown, currency),
                    line.tax.map(|tax| minor(tax, currency)),
                )
            })
            .collect();
        assert_eq!(found, plain.lines, "{rule:?}");
        let found = [sums.net, sums.tax, sums.total, sums.due].map(|sum| minor(sum, currency));
        assert_eq!(
            found,
            [plain.net, plain.tax, plain.total, plain.due],
            "{rule:?} {nets:?}"
        );
        assert_eq!(minor(sums.cash_rounding, currency), plain.due - plain.total);
    }
}

fn settled(nets: &[&str], rule: &TaxRule) -> (Vec<Settled>, Sums) {
    let nets: Vec<Money> = nets.iter().map(|net| money(net)).collect();
    settle(&nets, rule, Currency::parse("EUR").unwrap())
}

/// By hand: three lines of 0.99 at 19 %. On the total 2.97 × 0.19 = 0.5643, so 0.56; on each line
/// 0.99 × 0.19 = 0.1881, so 0.19, three times 0.57.
#[test]
fn tax_on_each_line_may_differ_by_a_cent_from_tax_on_the_total() {
    let nets = ["0.99", "0.99", "0.99"];
    let of = |tax_on| rule("19 %", PricesShown::BeforeTax, tax_on, RoundingRule::HalfUp);
    let (_, sums) = settled(&nets, &of(TaxOn::Total));
    assert_eq!(
        (sums.tax.to_string(), sums.total.to_string()),
        ("0.56".into(), "3.53".into())
    );
    let (lines, sums) = settled(&nets, &of(TaxOn::EachLine));
    assert_eq!(lines[0].tax.unwrap().to_string(), "0.19");
    assert_eq!(
        (sums.tax.to_string(), sums.total.to_string()),
        ("0.57".into(), "3.54".into())
    );
}

/// By hand: 10.10 before tax at 7.5 % is 10.8575, shown as 10.86; the tax inside 10.86 is
/// 10.86 × 7.5 / 107.5 = 0.757674, so 0.76.
#[test]
fn tax_inside_is_taken_out_of_the_price_shown() {
    let inside = rule(
        "7.5 %",
        PricesShown::TaxInside,
        TaxOn::Total,
        RoundingRule::HalfUp,
    );
    let (lines, sums) = settled(&["10.10"], &inside);
    assert_eq!(lines[0].shown.to_string(), "10.86");
    assert_eq!(
        (sums.tax.to_string(), sums.net.to_string()),
        ("0.76".into(), "10.10".into())
    );
}

/// By hand: 12.50 × 0.01 = 0.125 is a middle: half-up 0.13, half-even 0.12; 13.50 × 0.01 = 0.135
/// goes to 0.14 both ways.
#[test]
fn a_middle_goes_the_way_of_the_rule() {
    let of = |way, net| {
        let rule = rule("1 %", PricesShown::BeforeTax, TaxOn::Total, way);
        settled(&[net], &rule).1.tax.to_string()
    };
    assert_eq!(of(RoundingRule::HalfUp, "12.50"), "0.13");
    assert_eq!(of(RoundingRule::HalfEven, "12.50"), "0.12");
    assert_eq!(of(RoundingRule::HalfUp, "13.50"), "0.14");
    assert_eq!(of(RoundingRule::HalfEven, "13.50"), "0.14");
}

/// By hand: 17.52 + 20 % = 21.024, so 21.02; to five cents 21.00, which takes 0.02 off.
#[test]
fn what_is_paid_in_coins_is_told_apart_from_the_total() {
    let coins = TaxRule {
        cash_step: Some(money("0.05")),
        ..rule(
            "20 %",
            PricesShown::BeforeTax,
            TaxOn::Total,
            RoundingRule::HalfUp,
        )
    };
    let (_, sums) = settled(&["17.52"], &coins);
    assert_eq!(sums.total.to_string(), "21.02");
    assert_eq!(sums.due.to_string(), "21.00");
    assert_eq!(sums.cash_rounding.to_string(), "-0.02");
}

#[test]
fn nothing_costs_nothing() {
    let rule = rule(
        "20 %",
        PricesShown::TaxInside,
        TaxOn::Total,
        RoundingRule::HalfEven,
    );
    let (lines, sums) = settled(&[], &rule);
    assert!(lines.is_empty());
    assert_eq!(sums.due.to_string(), "0.00");
}
