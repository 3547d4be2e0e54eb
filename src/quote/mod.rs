//! Quote: what the work costs the customer, and what it leaves to the workshop.
//!
//! Several plans of one job may stand side by side, each an option with a column of its own.

mod costing;
mod expected;
mod labour;
mod lines;
mod number;
mod parts;
mod reckon;
#[cfg(test)]
mod tests;

pub use costing::{Costing, Discount, Overrun};
pub use expected::Expected;
pub use labour::Labour;
pub use lines::{Line, LinePlace};
pub use number::{NumberError, filled as number};
pub use parts::PricedPart;
pub use reckon::{Settled, Sums, TaxRule, settle};

use serde::Serialize;

use crate::catalog::{Catalog, QuoteTextUse};
use crate::check::{CheckRule, Verdict};
use crate::diagnostic::{Diagnostic, Problem};
use crate::job::Job;
use crate::method::StepLibrary;
use crate::plan::{Plan, Status};
use crate::purchase::Purchase;
use crate::quantity::{Currency, Date, Money};
use crate::shop::{Deposit, ShopFile};
use costing::{Costs, costing};
use lines::Lines;
use parts::Pricing;

/// A plan that is offered.
#[derive(Debug, Clone, Copy)]
pub struct Offered<'a> {
    /// What the option is called.
    pub name: &'a str,
    /// What is special about it.
    pub note: Option<&'a str>,
    /// Its job.
    pub job: &'a Job,
    /// Its plan.
    pub plan: &'a Plan,
}

/// What a quote is given besides the plans.
#[derive(Debug, Clone, Default)]
pub struct Request {
    /// Its number.
    pub number: Option<String>,
    /// Its date.
    pub date: Option<Date>,
}

/// A quote.
#[derive(Debug, Clone, Serialize)]
pub struct Quote {
    /// Its number.
    pub number: Option<String>,
    /// Its date.
    pub date: Option<Date>,
    /// For how many days it holds.
    pub valid_days: u32,
    /// The last day on which it holds, where it has a date.
    pub valid_until: Option<Date>,
    /// How its amounts come about.
    pub rule: TaxRule,
    /// The options, in the order offered.
    pub options: Vec<QuoteOption>,
    /// What the price includes.
    pub included: Vec<String>,
    /// What it does not include.
    pub not_included: Vec<String>,
    /// Terms of payment.
    pub terms: Vec<String>,
    /// What it rests on.
    pub assumptions: Vec<String>,
    /// What the customer should know before saying yes.
    pub cautions: Vec<String>,
}

/// One plan with its price.
#[derive(Debug, Clone, Serialize)]
pub struct QuoteOption {
    /// What it is called.
    pub name: String,
    /// What is special about it.
    pub note: Option<String>,
    /// Currency of all its amounts.
    pub currency: Currency,
    /// Whether it may be built.
    pub ready: bool,
    /// Hours by phase and rate.
    pub labour: Vec<Labour>,
    /// Parts.
    pub parts: Vec<PricedPart>,
    /// What the customer reads.
    pub lines: Vec<Line>,
    /// What the lines come to.
    pub sums: Sums,
    /// What is paid before the work begins.
    pub deposit: Option<Money>,
    /// What is paid afterwards.
    pub balance: Money,
    /// What the work will give.
    pub expected: Vec<Expected>,
    /// What has no price yet, so that the sums are too small.
    pub unpriced: Vec<String>,
    /// What is left to the workshop.
    pub costing: Costing,
}

/// Prices plans of one job.
///
/// # Errors
/// When the shop file asks for a deposit of more than is to be paid.
pub fn price(
    offered: &[Offered<'_>],
    shop: &ShopFile,
    catalog: &Catalog,
    library: &StepLibrary,
    request: &Request,
) -> Result<Quote, Vec<Diagnostic>> {
    let mut mistakes = Vec::new();
    let mut options = Vec::new();
    for offered in offered {
        match option(offered, shop, catalog, library) {
            Ok(option) => options.push(option),
            Err(mistake) if mistakes.contains(&*mistake) => {}
            Err(mistake) => mistakes.push(*mistake),
        }
    }
    if !mistakes.is_empty() {
        return Err(mistakes);
    }
    let currency = options
        .first()
        .map_or(shop.currency, |option| option.currency);
    let texts = |own: &[String], purpose| match own {
        [] => catalog.quote_texts(purpose),
        own => own.to_vec(),
    };
    let valid_days = shop.valid_days.value;
    Ok(Quote {
        number: request.number.clone(),
        date: request.date,
        valid_days,
        valid_until: request.date.map(|date| date.after(valid_days)),
        rule: TaxRule::of(shop, currency),
        options,
        included: texts(&shop.included, QuoteTextUse::Included),
        not_included: texts(&shop.not_included, QuoteTextUse::NotIncluded),
        terms: texts(&shop.terms, QuoteTextUse::Terms),
        assumptions: assumptions(offered, catalog),
        cautions: catalog.quote_texts(QuoteTextUse::Caution),
    })
}

fn option(
    offered: &Offered<'_>,
    shop: &ShopFile,
    catalog: &Catalog,
    library: &StepLibrary,
) -> Result<QuoteOption, Box<Diagnostic>> {
    let (job, plan) = (offered.job, offered.plan);
    let currency = job.currency;
    let rule = TaxRule::of(shop, currency);
    let labour = labour::labour(&plan.method, shop, &rule, currency);
    let pricing = Pricing {
        shop,
        catalog,
        rule: &rule,
        currency,
    };
    let (parts, on_shelf) = parts::parts(&plan.purchase, pricing);
    let mut unpriced = unpriced(&plan.purchase, catalog);
    unpriced.extend(on_shelf);
    if labour.is_none() {
        unpriced.push("labour".to_owned());
    }
    let labour = labour.unwrap_or_default();
    let (nets, names) = Lines {
        labour: &labour,
        parts: &parts,
        delivery: plan.purchase.bill.delivery,
        pricing,
        library,
    }
    .collect();
    let (settled, sums) = settle(&nets, &rule, currency);
    let deposit = deposit(&sums, shop, &rule, currency)?;
    let costs = Costs {
        parts: parts.iter().map(|part| part.cost).sum(),
        delivery: plan.purchase.bill.delivery,
        tools: (plan.purchase.tools.goods_total + plan.purchase.tools.delivery).rounded(currency),
    };
    let costing = costing(&sums, &labour, costs, &rule, currency);
    Ok(QuoteOption {
        name: offered.name.to_owned(),
        note: offered.note.map(str::to_owned),
        currency,
        ready: plan.status() == Status::Ready,
        lines: lines::settled(names, settled),
        sums,
        balance: (sums.due - deposit.unwrap_or_default()).rounded(currency),
        deposit,
        expected: expected::expected(offered, catalog),
        unpriced,
        costing,
        labour,
        parts,
    })
}

/// What could not be bought, or not at a known price; tools are in no price anyway.
fn unpriced(purchase: &Purchase, catalog: &Catalog) -> Vec<String> {
    let tools = catalog.tools.iter().map(|row| &row.description);
    let tools: Vec<&String> = tools
        .chain(catalog.dies.iter().map(|row| &row.description))
        .collect();
    let short = purchase.checks.iter().filter(|check| {
        check.rule == CheckRule::Supply
            && check.verdict != Verdict::Pass
            && !tools.contains(&&check.subject)
    });
    short.map(|check| check.subject.clone()).collect()
}

/// What is paid before the work begins; nothing where no rate of exchange gives the amount.
fn deposit(
    sums: &Sums,
    shop: &ShopFile,
    rule: &TaxRule,
    currency: Currency,
) -> Result<Option<Money>, Box<Diagnostic>> {
    let Some(asked) = &shop.deposit else {
        return Ok(None);
    };
    let amount = match asked.value {
        Deposit::Share(share) => {
            Some(rule.rounded(sums.due.decimal() * share.fraction(), currency))
        }
        Deposit::Amount(amount) => shop.converted(amount, shop.currency, currency),
    };
    let amount = amount.map(|amount| rule.payable(amount).rounded(currency));
    match amount.filter(|amount| *amount > sums.due) {
        Some(too_much) => {
            let due = sums.due;
            let reason = format!(
                "the deposit of {too_much} {currency} is more than the {due} {currency} to be paid"
            );
            let help = "ask for a share, such as \"40 %\"";
            let problem = Problem::contradiction_with_help(reason, help);
            Err(Box::new(Diagnostic::new(problem, asked.span)))
        }
        None => Ok(amount),
    }
}

/// Who measured, for which days, and what the catalog says.
fn assumptions(offered: &[Offered<'_>], catalog: &Catalog) -> Vec<String> {
    let mut assumptions = Vec::new();
    if let Some(first) = offered.first() {
        let job = first.job;
        assumptions.push(match &job.measured_by {
            Some(who) => format!("Lengths and places as measured by {who}."),
            None => {
                "Lengths and places as given to us; nobody is named who measured them.".to_owned()
            }
        });
        assumptions.push(format!(
            "Reckoned for days from {} to {}, with every doubtful figure at the end that does most \
             harm.",
            job.units.temperature(job.cold),
            job.units.temperature(job.hot)
        ));
    }
    assumptions.extend(catalog.quote_texts(QuoteTextUse::Assumption));
    assumptions
}
