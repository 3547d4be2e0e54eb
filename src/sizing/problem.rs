//! The choice of sizes as a problem of pure numbers.
//!
//! Every lead takes one of its options; each option has a price. Limits are sums over the leads
//! that may not pass a budget; pairs say that what one lead's option asks the option of another
//! must allow.

/// One option of a lead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// Its price.
    pub price: f64,
    /// What breaks ties between equal prices; the smaller wins.
    pub mass: f64,
}

/// A sum over some leads that may not pass a budget.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The budget.
    pub most: f64,
    /// Leads, each with what every option adds.
    pub terms: Vec<(usize, Vec<f64>)>,
}

impl Limit {
    /// The sum of a choice.
    pub fn sum(&self, at: &[usize]) -> f64 {
        let terms = self.terms.iter();
        terms.map(|(lead, adds)| adds[at[*lead]]).sum()
    }
}

/// What one lead's option asks of another's.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// The lead that asks.
    pub asks: usize,
    /// How much each of its options asks.
    pub asked: Vec<f64>,
    /// The lead that must allow it.
    pub allows: usize,
    /// How much each of its options allows.
    pub allowed: Vec<f64>,
}

impl Pair {
    /// Whether two options go together.
    pub fn holds(&self, asking: usize, allowing: usize) -> bool {
        Self::goes(self.asked[asking], self.allowed[allowing])
    }

    /// Whether an option of the lead that asks goes with a choice of the others.
    pub fn holds_among(&self, asking: usize, at: &[usize]) -> bool {
        let own = self.allows == self.asks;
        self.holds(asking, if own { asking } else { at[self.allows] })
    }

    /// Whether what is asked is allowed.
    pub fn goes(asked: f64, allowed: f64) -> bool {
        asked <= allowed * (1.0 + ROUNDING)
    }
}

/// Options of some leads that do not go together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Forbidden {
    /// Leads, each with which of its options take part; a choice is forbidden when all do.
    pub options: Vec<(usize, Vec<bool>)>,
}

impl Forbidden {
    /// Whether a choice is forbidden.
    pub fn forbids(&self, at: &[usize]) -> bool {
        self.options.iter().all(|(lead, part)| part[at[*lead]])
    }
}

/// A whole problem.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Problem {
    /// The options of every lead.
    pub leads: Vec<Vec<Choice>>,
    /// The leads in an order that does not depend on where they stand in the file; ties go by it.
    pub order: Vec<usize>,
    /// Budgets.
    pub limits: Vec<Limit>,
    /// Demands between two leads.
    pub pairs: Vec<Pair>,
    /// What does not go together.
    pub forbidden: Vec<Forbidden>,
}

/// How far a sum may pass its budget by rounding alone.
const ROUNDING: f64 = 1e-9;

impl Problem {
    /// What ranks choices: the price, and between equal prices the mass.
    pub fn rank(&self, at: &[usize]) -> f64 {
        let leads = self.leads.iter().zip(at);
        leads.map(|(options, option)| options[*option].rank()).sum()
    }

    /// Figures that one look at all of it takes.
    pub fn effort(&self) -> usize {
        let terms = self.limits.iter().flat_map(|limit| &limit.terms);
        let adds: usize = terms.map(|(_, adds)| adds.len()).sum();
        adds + self.leads.iter().map(Vec::len).sum::<usize>()
    }

    /// Whether a choice keeps every budget and demand.
    pub fn allows(&self, at: &[usize]) -> bool {
        self.limits.iter().all(|limit| limit.keeps(limit.sum(at)))
            && self
                .pairs
                .iter()
                .all(|pair| pair.holds(at[pair.asks], at[pair.allows]))
            && !self.forbidden.iter().any(|forbidden| forbidden.forbids(at))
    }
}

impl Limit {
    /// Whether a sum is within the budget.
    pub fn keeps(&self, sum: f64) -> bool {
        sum <= self.most + ROUNDING * (1.0 + self.most.abs())
    }
}

impl Choice {
    /// Price with a grain of mass, which decides between equal prices alone.
    pub fn rank(&self) -> f64 {
        const GRAIN: f64 = 1e-6;
        self.price + GRAIN * self.mass
    }
}

/// How far the largest of some figures is from the smallest.
pub fn spread(figures: &[f64]) -> f64 {
    let smallest = figures.iter().copied().fold(f64::INFINITY, f64::min);
    let largest = figures.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    largest - smallest
}
