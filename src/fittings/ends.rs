//! The end of a cable: lug, die, sleeve and boot.

use super::choose::{Lacks, choose, in_words};
use super::ledger::Ledger;
use super::site::{Landing, Site};
use super::studs::{Hold, Seat, Seats, StudSeat, is_positive};
use super::words::{celsius, demand, mm, practice, source_of};
use super::{Amount, End};
use crate::catalog::{Boot, Cable, Colour, Connector, Lug, LugAngle, Sleeve};
use crate::check::{Check, CheckRule};
use crate::quantity::{Length, Temperature, Thread};

/// An end with what it is fastened to.
pub(super) struct MadeEnd<'a> {
    /// As it is told to later stages.
    pub end: End,
    /// What it is fastened to.
    pub seat: Seat<'a>,
    /// Its lug.
    pub lug: Option<&'a Lug>,
}

/// Fits every end, in the order of leads and sections.
pub(super) fn fit<'a>(seats: &Seats<'a, '_>, ledger: &mut Ledger) -> Vec<MadeEnd<'a>> {
    let landings = seats.site.landings();
    let ends = landings.iter().map(|landing| {
        let seat = seats.seat(landing);
        Fitter::new(seats.site, landing, &seat).fit(seat, ledger)
    });
    ends.collect()
}

/// What fitting one end needs at every step.
struct Fitter<'a, 'l> {
    site: Site<'a>,
    landing: &'l Landing,
    subject: String,
}

impl<'a, 'l> Fitter<'a, 'l> {
    fn new(site: Site<'a>, landing: &'l Landing, seat: &Seat<'a>) -> Self {
        let section = site.section_name(landing.lead, landing.section);
        Self {
            site,
            landing,
            subject: format!("{section}, at {}", seat.name),
        }
    }

    fn fit(&self, seat: Seat<'a>, ledger: &mut Ledger) -> MadeEnd<'a> {
        let mut end = self.bare(&seat);
        let mut lug = None;
        match (&seat.hold, self.site.cable(self.landing.lead)) {
            (_, None) => self.open("the catalog does not hold the cable", ledger),
            (Hold::Unknown(why), _) => self.open(why, ledger),
            (Hold::Contact(connector), Some(cable)) => {
                self.contact(connector, cable, &mut end, ledger);
            }
            (Hold::Stud(stud), Some(cable)) => {
                end.stud = Some(stud.thread);
                lug = self.stud(stud, &seat, cable, &mut end, ledger);
            }
        }
        MadeEnd { end, seat, lug }
    }

    fn bare(&self, seat: &Seat<'_>) -> End {
        End {
            lead: self.landing.lead,
            section: self.landing.section,
            point: self.landing.point,
            terminal: seat.name.clone(),
            place: seat.place,
            stud: None,
            lug: None,
            die: None,
            crimps: 0,
            sleeve: None,
            boot: None,
            strip: None,
        }
    }

    fn open(&self, why: &str, ledger: &mut Ledger) {
        let check = Check::open(CheckRule::Termination, &self.subject, why);
        ledger.checks.push(check);
    }

    /// A contact takes the bare conductor: no lug, no sleeve, no boot.
    fn contact(&self, part: &Connector, cable: &Cable, end: &mut End, ledger: &mut Ledger) {
        end.crimps = 1;
        end.strip = Some(part.strip);
        let fits = cable.size <= part.max_size;
        let source = source_of(part);
        let check = Check::holds(CheckRule::Termination, &self.subject, fits, &source);
        let note = if fits {
            format!(
                "crimp the contact with the tool of the maker of `{}`",
                *part.id
            )
        } else {
            format!(
                "a contact of `{}` takes up to {}, the cable is {}; take a larger connector",
                *part.id, part.max_size, cable.size
            )
        };
        ledger.checks.push(check.with_note(note));
    }

    fn stud(
        &self,
        stud: &StudSeat,
        seat: &Seat<'_>,
        cable: &Cable,
        end: &mut End,
        ledger: &mut Ledger,
    ) -> Option<&'a Lug> {
        let mut missing = Vec::new();
        let lug = self.lug(stud.thread, cable, &mut missing, ledger);
        if let Some(lug) = lug {
            ledger.need(lug, 1, &self.subject);
            end.lug = Some(lug.id.value.clone());
            end.crimps = lug.crimps;
            end.strip = Some(lug.strip);
            end.die = self.die(lug, &mut missing, ledger);
            end.sleeve = self.sleeve(lug, cable, seat, &mut missing, ledger);
            if self.needs_boot(seat) {
                end.boot = self.boot(lug, cable, &mut missing, ledger);
            }
        }
        self.check(lug, end, &missing, ledger);
        lug
    }

    fn lug(
        &self,
        stud: Thread,
        cable: &Cable,
        missing: &mut Vec<String>,
        ledger: &mut Ledger,
    ) -> Option<&'a Lug> {
        let judge = |lug: &Lug, lacks: &mut Lacks| {
            lacks.extend(lug.misfits(cable), off_size(lug, cable));
            lacks.unless(lug.stud == stud, || {
                format!("its hole is for a stud {}, this one is {stud}", lug.stud)
            });
        };
        match choose(&self.site.catalog.lugs, judge, rank_lug) {
            Ok(lug) => Some(lug),
            Err(nearest) => {
                missing.push(format!("no lug fits; {}", in_words(&nearest)));
                let (size, class, metal) = (cable.size, cable.conductor_class, cable.material);
                let wanted =
                    format!("a lug for {size} {metal} cable of class {class} on a stud {stud}");
                ledger.misfit(wanted, nearest);
                None
            }
        }
    }

    fn die(&self, lug: &Lug, missing: &mut Vec<String>, ledger: &mut Ledger) -> Option<String> {
        let die = self.site.catalog.dies.iter().find(|die| *die.id == lug.die);
        match die {
            Some(die) => {
                ledger.dies.push(die.id.value.clone());
                Some(die.code.clone())
            }
            None => {
                missing.push(format!("the catalog does not hold the die `{}`", lug.die));
                None
            }
        }
    }

    fn sleeve(
        &self,
        lug: &Lug,
        cable: &Cable,
        seat: &Seat<'_>,
        missing: &mut Vec<String>,
        ledger: &mut Ledger,
    ) -> Option<String> {
        let (barrel, outer) = (lug.barrel_outer, cable.outer_diameter);
        let ambient = self.site.temperature(seat.place);
        let judge = |sleeve: &Sleeve, lacks: &mut Lacks| {
            judge_sleeve(sleeve, barrel, outer, ambient, lacks);
        };
        let rank = |sleeve: &Sleeve| [sleeve.supplied.mm(), sleeve.length.mm()];
        match choose(&self.site.catalog.sleeves, judge, rank) {
            Ok(sleeve) => {
                let wanted = self.site.job.lead(self.landing.lead).insulation();
                let colour = sold_colour(&sleeve.colours, &[wanted, Colour::Black]);
                ledger.need_in(sleeve, colour, Amount::Pieces(1), &self.subject);
                Some(sleeve.id.value.clone())
            }
            Err(nearest) => {
                missing.push(format!("no lined sleeve fits; {}", in_words(&nearest)));
                let wanted = format!(
                    "a lined sleeve over a barrel of {} that grips {} cable at {}",
                    mm(barrel),
                    mm(outer),
                    celsius(ambient)
                );
                ledger.misfit(wanted, nearest);
                None
            }
        }
    }

    fn needs_boot(&self, seat: &Seat<'_>) -> bool {
        let rule = demand(self.site.job.rules.live_ends_covered.as_ref());
        rule.value && is_positive(self.site, self.landing.lead) && !seat.covered
    }

    fn boot(
        &self,
        lug: &Lug,
        cable: &Cable,
        missing: &mut Vec<String>,
        ledger: &mut Ledger,
    ) -> Option<String> {
        let (outer, palm) = (cable.outer_diameter, lug.palm_width);
        let rank = |boot: &Boot| [boot.max_cable.mm(), boot.max_palm.mm()];
        match choose(
            &self.site.catalog.boots,
            |boot, lacks| judge_boot(boot, outer, palm, lacks),
            rank,
        ) {
            Ok(boot) => {
                ledger.need_in(boot, Some(boot.colour), Amount::Pieces(1), &self.subject);
                Some(boot.id.value.clone())
            }
            Err(nearest) => {
                missing.push(format!("no red boot fits; {}", in_words(&nearest)));
                let wanted = format!(
                    "a red boot for {} cable and a palm {} wide",
                    mm(outer),
                    mm(palm)
                );
                ledger.misfit(wanted, nearest);
                None
            }
        }
    }

    fn check(&self, lug: Option<&Lug>, end: &End, missing: &[String], ledger: &mut Ledger) {
        let source = match (lug, &end.boot) {
            (Some(_), Some(_)) => {
                let rule = demand(self.site.job.rules.live_ends_covered.as_ref());
                rule.map(|_| ())
            }
            (Some(lug), None) => source_of(lug),
            (None, _) => practice(),
        };
        let kept = missing.is_empty();
        let check = Check::holds(CheckRule::Termination, &self.subject, kept, &source);
        ledger.checks.push(check.with_note(note(end, missing)));
    }
}

fn note(end: &End, missing: &[String]) -> String {
    if !missing.is_empty() {
        return format!(
            "{}. Take a cable or stud of another size, or add the part to the catalog",
            missing.join(". ")
        );
    }
    match &end.boot {
        Some(_) => "lug, die, lined sleeve and boot go together; the end is on the positive side"
            .to_owned(),
        None => "lug, die and lined sleeve go together".to_owned(),
    }
}

/// How far a lug's nearest size is from the cable's, as the logarithm of their ratio.
fn off_size(lug: &Lug, cable: &Cable) -> f64 {
    if lug.sizes.contains(&cable.size) {
        return 0.0;
    }
    let wanted = cable.size.nominal_area().mm2();
    let sizes = lug.sizes.iter();
    let off = sizes.map(|size| (size.nominal_area().mm2() / wanted).ln().abs());
    off.fold(f64::INFINITY, f64::min)
}

/// Straight before right-angle, then the lug made for the fewest sizes.
fn rank_lug(lug: &Lug) -> [f64; 2] {
    let angle = match lug.angle {
        LugAngle::Straight => 0.0,
        LugAngle::RightAngle => 1.0,
    };
    [angle, lug.sizes.len() as f64]
}

fn judge_sleeve(
    sleeve: &Sleeve,
    barrel: Length,
    cable: Length,
    ambient: Temperature,
    lacks: &mut Lacks,
) {
    let thickest = barrel.max(cable);
    lacks.compare(
        sleeve.supplied > thickest,
        sleeve.supplied.mm(),
        thickest.mm(),
        || {
            let (bore, over) = (mm(sleeve.supplied), mm(thickest));
            format!("its bore of {bore} does not go over {over}")
        },
    );
    lacks.compare(
        sleeve.recovered < cable,
        sleeve.recovered.mm(),
        cable.mm(),
        || {
            let (bore, cable) = (mm(sleeve.recovered), mm(cable));
            format!("it shrinks to {bore} and stays loose on {cable}")
        },
    );
    lacks.at_least(sleeve.rating.c(), ambient.c(), || {
        let (has, needs) = (celsius(sleeve.rating), celsius(ambient));
        format!("it stands {has}, the place gets {needs}")
    });
}

fn judge_boot(boot: &Boot, cable: Length, palm: Length, lacks: &mut Lacks) {
    lacks.unless(boot.colour == Colour::Red, || {
        format!("it is {}, positive ends are red", boot.colour)
    });
    lacks.unless(boot.min_cable <= cable && cable <= boot.max_cable, || {
        let (least, most) = (mm(boot.min_cable), mm(boot.max_cable));
        format!(
            "it takes cables from {least} to {most}, this one is {}",
            mm(cable)
        )
    });
    lacks.at_least(boot.max_palm.mm(), palm.mm(), || {
        let (has, needs) = (mm(boot.max_palm), mm(palm));
        format!("it takes palms up to {has}, this one is {needs}")
    });
}

/// The first of the wanted colours that is sold, else the first sold.
pub(super) fn sold_colour(sold: &[Colour], wanted: &[Colour]) -> Option<Colour> {
    let found = wanted.iter().find(|colour| sold.contains(colour));
    found.or(sold.first()).copied()
}
