//! Makes a failing case smaller: fewer devices, deeds, misfortunes and odd fates, as long as it
//! still fails.

use super::{Case, Fate, Sabotage, run};

/// The smallest failing case found from `case` within `tries` runs, and how it breaks.
pub fn shrink(case: &Case, sabotage: Sabotage, tries: usize) -> (Case, String) {
    let mut shrinker = Shrinker { sabotage, left: tries };
    let mut best = case.clone();
    let mut broken = run(case, sabotage).err().map(|broken| broken.0).unwrap_or_default();
    loop {
        let before = best.clone();
        for devices in 1..best.devices {
            if shrinker.take(&mut best, &mut broken, |case| case.devices = devices) {
                break;
            }
        }
        shrinker.thin(&mut best, &mut broken, |case| &mut case.troubles);
        shrinker.thin(&mut best, &mut broken, |case| &mut case.steps);
        shrinker.calm_fates(&mut best, &mut broken);
        if best == before || shrinker.left == 0 {
            return (best, broken);
        }
    }
}

struct Shrinker {
    sabotage: Sabotage,
    left: usize,
}

impl Shrinker {
    /// Takes the change when the case still fails with it.
    fn take(
        &mut self,
        best: &mut Case,
        broken: &mut String,
        change: impl FnOnce(&mut Case),
    ) -> bool {
        if self.left == 0 {
            return false;
        }
        self.left -= 1;
        let mut smaller = best.clone();
        change(&mut smaller);
        match run(&smaller, self.sabotage) {
            Ok(_) => false,
            Err(how) => {
                *best = smaller;
                *broken = how.0;
                true
            }
        }
    }

    /// Leaves out runs of a list, long ones first.
    fn thin<T>(
        &mut self,
        best: &mut Case,
        broken: &mut String,
        list: impl Fn(&mut Case) -> &mut Vec<T>,
    ) {
        let mut run = list(best).len().div_ceil(2);
        while run > 0 {
            let mut from = 0;
            while from < list(best).len() {
                let taken = self.take(best, broken, |case| {
                    let list = list(case);
                    let to = list.len().min(from + run);
                    list.drain(from..to);
                });
                if !taken {
                    from += run;
                }
            }
            run = if run == 1 { 0 } else { run.div_ceil(2) };
        }
    }

    fn calm_fates(&mut self, best: &mut Case, broken: &mut String) {
        let odd = |case: &Case| {
            case.fates.iter().rposition(|fate| *fate != Fate::Fine).map_or(0, |last| last + 1)
        };
        let mut run = odd(best).div_ceil(2);
        while run > 0 {
            let mut from = 0;
            while from < odd(best) {
                let to = odd(best).min(from + run);
                if best.fates[from..to].iter().any(|fate| *fate != Fate::Fine) {
                    self.take(best, broken, |case| case.fates[from..to].fill(Fate::Fine));
                }
                from = to;
            }
            run = if run == 1 { 0 } else { run.div_ceil(2) };
        }
        let odd = odd(best);
        best.fates.truncate(odd);
    }
}
