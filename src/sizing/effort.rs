//! How much work a search may do, by how many leads there are to choose for and how exact its numbers are.

use super::choose::SMALL;
use super::choosing::Choosing;
use super::ends::autos;
use super::search::Work;

/// Leads to choose for, from which on proof is out of reach and looking is kept short.
const LARGE: usize = 40;
/// Leads to choose for, up to which nearly every choice may be put before the judge.
const FEW: usize = 6;
/// Choices put before the judge where these are few.
const MOST_JUDGED: usize = 4000;
/// Work for a small job, which is to be proved: more than any is known to take.
const TO_THE_END: Work = Work {
    nodes: 50_000,
    judged: 20_000,
};
/// Figures looked at in a search: what bounds it where leads are many.
const EFFORT: usize = 20_000_000;

impl Choosing<'_, '_> {
    /// Work for better choices and for the proof, where so many rounds are to come; `looked` where
    /// better choices were looked for in vain.
    pub(super) fn work_of_round(&self, rounds: usize, looked: bool) -> [Work; 2] {
        let (work, little) = (self.work(), self.little_work());
        match rounds {
            0 if looked => [little, work],
            0 => [work; 2],
            _ if self.is_hard() && !looked => [work.halved(), little],
            _ => [little; 2],
        }
    }

    /// Whether proof takes long, if it is found at all.
    pub(super) fn is_hard(&self) -> bool {
        self.ringed && autos(self.stock, self.options) > SMALL
    }

    /// Work for a look that no other follows.
    pub(super) fn work(&self) -> Work {
        let auto = autos(self.stock, self.options);
        if auto <= SMALL {
            return TO_THE_END;
        }
        // Without rings hardly a choice is turned down by the judge: more looking pays.
        let nodes = if self.ringed || auto > LARGE {
            40_000
        } else {
            400_000
        };
        Work {
            nodes: (nodes / auto).min(EFFORT / self.problem.effort().max(1)),
            judged: (MOST_JUDGED / auto).max(10),
        }
    }

    /// Work for a look that further narrowing may make needless.
    fn little_work(&self) -> Work {
        Work {
            nodes: 5000 / self.options.len().max(SMALL),
            judged: if autos(self.stock, self.options) <= FEW {
                MOST_JUDGED
            } else {
                40
            },
        }
    }
}
