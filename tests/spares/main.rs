//! The best kit against plain trial of all kits, and what must hold of any kit.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, missing_docs)]

use longlead::spares::{Burden, Choice, Problem, WORK, Want, solve};

/// A plain linear congruential generator (constants of Knuth's MMIX), so that every run is the same.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    fn item(&mut self) -> Burden {
        Burden {
            grams: self.below(900),
            millilitres: self.below(900),
            // Some are owned.
            price: if self.below(5) == 0 {
                0
            } else {
                self.below(4_000)
            },
        }
    }

    fn want(&mut self, items: u64) -> Want {
        let ways = 1 + self.below(3);
        Want {
            weight: self.below(60),
            ways: (0..ways)
                .map(|_| {
                    let size = 1 + self.below(4);
                    (0..size).map(|_| self.below(items) as usize).collect()
                })
                .collect(),
        }
    }

    fn problem(&mut self, items: u64, wants: u64, part_percent: u64) -> Problem {
        let items_list: Vec<Burden> = (0..items).map(|_| self.item()).collect();
        let sum = |figure: fn(&Burden) -> u64| {
            items_list.iter().map(figure).sum::<u64>() * part_percent / 100
        };
        Problem {
            limits: Burden {
                grams: sum(|item| item.grams),
                millilitres: sum(|item| item.millilitres),
                price: sum(|item| item.price),
            },
            must: (0..self.below(3))
                .map(|_| self.below(items) as usize)
                .collect(),
            wants: (0..wants).map(|_| self.want(items)).collect(),
            items: items_list,
        }
    }
}

/// Weight, price and grams of the best kit, by trying every kit; nothing of the program's own code is
/// used. The wrenches go first where they fit.
fn best_by_trial(problem: &Problem) -> (u64, u64, u64) {
    let count = problem.items.len();
    let fits = |kit: u32| {
        let (mut grams, mut room, mut price) = (0, 0, 0);
        for item in (0..count).filter(|item| kit >> item & 1 == 1) {
            grams += problem.items[item].grams;
            room += problem.items[item].millilitres;
            price += problem.items[item].price;
        }
        let limits = problem.limits;
        let fits = grams <= limits.grams && room <= limits.millilitres && price <= limits.price;
        fits.then_some((price, grams))
    };
    let must = problem.must.iter().fold(0_u32, |kit, item| kit | 1 << item);
    let must = if fits(must).is_some() { must } else { 0 };
    let mut best: Option<(u64, u64, u64)> = None;
    for kit in (0..1_u32 << count).filter(|kit| kit & must == must) {
        let Some((price, grams)) = fits(kit) else {
            continue;
        };
        let mut weight = 0;
        for want in &problem.wants {
            let mended = want
                .ways
                .iter()
                .any(|way| way.iter().all(|item| kit >> item & 1 == 1));
            weight += if mended { want.weight } else { 0 };
        }
        let better = match best {
            None => true,
            Some((most, least, lightest)) => {
                weight > most
                    || weight == most && (price < least || price == least && grams < lightest)
            }
        };
        if better {
            best = Some((weight, price, grams));
        }
    }
    best.unwrap()
}

fn found(problem: &Problem, choice: &Choice) -> (u64, u64, u64) {
    let taken = problem
        .items
        .iter()
        .zip(&choice.taken)
        .filter(|(_, taken)| **taken);
    let (price, grams) = taken.fold((0, 0), |(price, grams), (item, _)| {
        (price + item.price, grams + item.grams)
    });
    (choice.weight, price, grams)
}

#[test]
fn the_kit_is_the_one_that_trial_of_all_kits_finds() {
    let mut dice = Dice(1);
    let mut left_something = 0;
    for number in 0..100 {
        let part = [15, 30, 50, 70, 100][number % 5];
        let (items, wants) = (4 + dice.below(10), 3 + dice.below(14));
        let problem = dice.problem(items, wants, part);
        let choice = solve(&problem, WORK);
        assert!(choice.proved, "problem {number}");
        assert_eq!(choice.bound, choice.weight, "problem {number}");
        assert_eq!(
            found(&problem, &choice),
            best_by_trial(&problem),
            "problem {number}"
        );
        let all: u64 = problem.wants.iter().map(|want| want.weight).sum();
        left_something += u32::from(choice.weight < all);
    }
    // Limits that never bind would prove nothing.
    assert!(left_something > 50, "{left_something}");
}

fn within(problem: &Problem, choice: &Choice) -> bool {
    let taken = problem
        .items
        .iter()
        .zip(&choice.taken)
        .filter(|(_, taken)| **taken);
    let sum = taken.fold([0; 3], |sum, (item, _)| {
        [
            sum[0] + item.grams,
            sum[1] + item.millilitres,
            sum[2] + item.price,
        ]
    });
    let limits = problem.limits;
    sum[0] <= limits.grams && sum[1] <= limits.millilitres && sum[2] <= limits.price
}

#[test]
fn no_kit_exceeds_its_limits_and_a_larger_limit_never_mends_less() {
    let mut dice = Dice(2);
    for number in 0..8 {
        let mut problem = dice.problem(22, 34, 12);
        let step = problem.limits;
        if !problem.must_fits() {
            // Wrenches that first fit at a larger limit come before weight, and may take its place.
            problem.must.clear();
        }
        let mut before = 0;
        for _ in 0..4 {
            let choice = solve(&problem, WORK);
            assert!(within(&problem, &choice), "problem {number}");
            assert!(choice.proved, "problem {number}");
            assert!(choice.weight >= before, "problem {number}");
            before = choice.weight;
            problem.limits = problem.limits.plus(step);
        }
    }
}

#[test]
fn without_work_the_kit_still_fits_and_the_bound_holds() {
    let mut dice = Dice(3);
    for number in 0..20 {
        let problem = dice.problem(22, 34, 20);
        let hasty = solve(&problem, 1);
        let proved = solve(&problem, WORK);
        assert!(within(&problem, &hasty), "problem {number}");
        assert!(hasty.weight <= proved.weight, "problem {number}");
        assert!(hasty.bound >= proved.weight, "problem {number}");
        assert!(proved.proved, "problem {number}");
    }
}

#[test]
fn wrenches_that_do_not_fit_together_are_not_forced_in() {
    let item = Burden {
        grams: 600,
        millilitres: 1,
        price: 1,
    };
    let want = |item: usize| Want {
        weight: 5,
        ways: vec![vec![item]],
    };
    let problem = Problem {
        items: vec![item, item],
        must: vec![0, 1],
        wants: vec![want(0)],
        limits: Burden {
            grams: 1_000,
            millilitres: 1_000,
            price: 1_000,
        },
    };
    assert!(!problem.must_fits());
    assert_eq!(solve(&problem, WORK).taken, [true, false]);
}
