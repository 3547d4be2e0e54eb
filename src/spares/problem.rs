//! What to take along, as a problem of whole numbers.

/// What an item takes of the limits of a kit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Burden {
    /// Mass in grams.
    pub grams: u64,
    /// Room in millilitres.
    pub millilitres: u64,
    /// Price in the smallest unit of the currency.
    pub price: u64,
}

impl Burden {
    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            grams: self.grams.saturating_add(other.grams),
            millilitres: self.millilitres.saturating_add(other.millilitres),
            price: self.price.saturating_add(other.price),
        }
    }

    /// Whether no limit is exceeded.
    pub fn within(self, limits: Self) -> bool {
        self.grams <= limits.grams
            && self.millilitres <= limits.millilitres
            && self.price <= limits.price
    }

    /// The three figures.
    pub(super) fn figures(self) -> [u64; 3] {
        [self.grams, self.millilitres, self.price]
    }
}

impl std::iter::Sum for Burden {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        items.fold(Self::default(), Self::plus)
    }
}

/// Something that the kit should be able to mend.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Want {
    /// What mending it is worth.
    pub weight: u64,
    /// Ways to mend it; each is the positions of all the items that it takes.
    pub ways: Vec<Vec<usize>>,
}

impl Want {
    /// Whether a set of items mends it.
    pub fn met_by(&self, taken: &[bool]) -> bool {
        let has = |item: &usize| taken.get(*item).copied().unwrap_or(false);
        self.ways.iter().any(|way| way.iter().all(has))
    }
}

/// Which items to take, so that the weight of what they mend is largest; of equals the cheapest, and
/// of these the lightest.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Problem {
    /// What may be taken.
    pub items: Vec<Burden>,
    /// Positions of the items that are taken whatever they mend, as long as they fit together.
    pub must: Vec<usize>,
    /// What may fail.
    pub wants: Vec<Want>,
    /// The most that the kit may be.
    pub limits: Burden,
}

/// How good a kit is; a larger one is better.
pub(super) type Worth = (u64, std::cmp::Reverse<u64>, std::cmp::Reverse<u64>);

impl Problem {
    /// What a set of items takes of the limits.
    pub fn burden(&self, taken: &[bool]) -> Burden {
        let items = self.items.iter().zip(taken);
        items
            .filter_map(|(item, taken)| taken.then_some(*item))
            .sum()
    }

    /// The weight of what a set of items mends.
    pub fn weight(&self, taken: &[bool]) -> u64 {
        let met = self.wants.iter().filter(|want| want.met_by(taken));
        met.map(|want| want.weight).sum()
    }

    /// Whether the items that must be taken fit together.
    pub fn must_fits(&self) -> bool {
        self.sum(&once(&self.must)).within(self.limits)
    }

    fn sum(&self, items: &[usize]) -> Burden {
        let items = items.iter().filter_map(|item| self.items.get(*item));
        items.copied().sum()
    }

    pub(super) fn worth(&self, taken: &[bool]) -> Worth {
        let burden = self.burden(taken);
        (
            self.weight(taken),
            std::cmp::Reverse(burden.price),
            std::cmp::Reverse(burden.grams),
        )
    }

    /// The same problem without what cannot matter: ways that never fit, ways that take more than
    /// another, and wants of equal ways one by one.
    pub(super) fn reduced(&self) -> Self {
        let must = if self.must_fits() {
            once(&self.must)
        } else {
            Vec::new()
        };
        let mut wants: Vec<Want> = Vec::new();
        for want in &self.wants {
            let ways = self.useful_ways(want, &must);
            if ways.is_empty() || want.weight == 0 {
                continue;
            }
            match wants.iter_mut().find(|known| known.ways == ways) {
                Some(known) => known.weight = known.weight.saturating_add(want.weight),
                None => wants.push(Want {
                    weight: want.weight,
                    ways,
                }),
            }
        }
        Self {
            items: self.items.clone(),
            must,
            wants,
            limits: self.limits,
        }
    }

    fn useful_ways(&self, want: &Want, must: &[usize]) -> Vec<Vec<usize>> {
        let mut ways: Vec<Vec<usize>> = Vec::new();
        for way in &want.ways {
            let items = once(way);
            let known = items.iter().all(|item| *item < self.items.len());
            let with_must = once(&[items.as_slice(), must].concat());
            if known && self.sum(&with_must).within(self.limits) {
                ways.push(items);
            }
        }
        ways.sort();
        ways.dedup();
        let holds = |larger: &[usize], smaller: &[usize]| {
            larger.len() > smaller.len() && smaller.iter().all(|item| larger.contains(item))
        };
        let all = ways.clone();
        ways.retain(|way| !all.iter().any(|other| holds(way, other)));
        ways
    }
}

/// The same positions in order, each once.
fn once(items: &[usize]) -> Vec<usize> {
    let mut items = items.to_vec();
    items.sort_unstable();
    items.dedup();
    items
}
