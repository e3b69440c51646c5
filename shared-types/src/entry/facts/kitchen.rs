//! The kitchen: what it has, what was planned, what was made of it and what is left.

use serde::{Deserialize, Serialize};

use crate::ids::*;
use crate::units::{Day, Grams, Millis};

/// Part of a lot that goes into a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LotPart {
    /// Which lot.
    pub lot: LotId,
    /// How much of it.
    pub grams: Grams,
}

/// Jars or packs of one size.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct JarsOut {
    /// The size: a jar's word such as `quart`, or `pack` for what goes in the freezer or a tin.
    pub jar: String,
    /// How many.
    pub count: i64,
}

fact! {
    /// Writes what the kitchen has and can do in a day.
    #[derive(Default)]
    KitchenSet { ?
        /// Burners that can be used at once.
        burners: i64,
        /// Canner loads that fit in a day.
        loads_per_day: i64,
        /// Quart jars the canner takes at once.
        jars_per_load: i64,
        /// The pressure canner: `none`, `dial` or `weighted`.
        pressure_canner: String,
        /// Whether there is an atmospheric steam canner.
        steam_canner: bool,
        /// Fruit the dryer takes in a day.
        dryer_per_day: Grams,
        /// What the freezer can freeze in 24 hours.
        freezer_per_day: Grams,
        /// What still fits in the freezer, in all.
        freezer_free: Grams,
        /// What the household eats fresh in a day.
        fresh_per_day: Grams,
        /// The jar the household likes, such as `quart`.
        jar: String,
        /// Minutes of work on a usual Monday, Tuesday and so on: seven numbers.
        weekday_minutes: Vec<i64>,
    }
}

fact! {
    /// Says how many minutes of work one day has, when it is not a usual one.
    HandsSet {
        /// Which day.
        day: Day,
        /// All hands together.
        minutes: i64,
        ?
    }
}

fact! {
    /// Counts what is in the cupboard.
    StockSet {
        /// What: `jar-quart` and the other sizes, `lid`, in pieces; `vinegar` and `lemon-juice` in
        /// millilitres; `sugar`, `salt` and other dry goods in grams.
        item: String,
        ?
        /// How many there are at the time of this entry; what is made after it is taken off.
        have: i64,
    }
}

fact! {
    /// Says how much the household wants of what a method makes.
    WantSet {
        /// The method.
        method: MethodId,
        ?
        /// How much a kilogram of it counts, in percent: 100 is usual, 0 is never.
        weight: i64,
        /// The most fruit to make into it within a plan.
        most: Grams,
    }
}

fact! {
    /// A plan was kept: its batches are those whose [`BatchSet::plan`] names it. The plan kept last
    /// is the one that stands, whole, so that two phones never add up to twice the work.
    PlanKept {
        /// The plan's own name.
        plan: PlanId,
        /// When, by the phone's clock.
        at: Millis,
        /// Who kept it.
        person: PersonId,
        /// Its first day.
        day: Day,
        /// How many days it covers.
        days: i64,
        /// What it keeps.
        keeps: Grams,
        /// Of how much.
        of: Grams,
        /// How far it may be from the best possible, at most, in ten-thousandths.
        gap: i64,
        /// What it says besides, in sentences: waste, and the limits to blame.
        said: Vec<String>,
        ?
    }
}

fact! {
    /// Writes fields of a planned batch.
    BatchSet {
        /// Which batch.
        batch: BatchId,
        ?
        /// The plan it belongs to.
        plan: PlanId,
        /// What is made.
        method: MethodId,
        /// When.
        day: Day,
        /// Minutes after midnight at which it begins.
        start_minute: i64,
        /// The jar.
        jar: String,
        /// How many jars it should give.
        jars: i64,
        /// From which lots.
        lots: Vec<LotPart>,
        /// Why it stands where it does, in a sentence.
        why: String,
        /// It stays when the plan is made anew.
        pinned: bool,
        /// Someone does not want it; it is not planned again for that day.
        dropped: bool,
        /// Work on it has begun.
        begun: bool,
    }
}

fact! {
    /// Ticks something off, or takes the tick away: a step of a batch, a chore of a cold night.
    TickSet {
        /// What, such as `batch/…/step/3`. See [`crate::book::kitchen::step_task`].
        task: String,
        /// Whether it is done.
        done: bool,
        /// Who says so.
        person: PersonId,
        ?
    }
}

fact! {
    /// A batch was made: what it took leaves its lots, what came out stands in the pantry.
    BatchMade {
        /// The batch; planned under the same name, or not planned at all.
        batch: BatchId,
        /// When, by the phone's clock.
        at: Millis,
        /// Who made it.
        person: PersonId,
        /// How.
        method: MethodId,
        /// What it counts as in the lots: `jar`, `freeze`, `dry`, `fresh`, `feed` or `compost`.
        what: String,
        /// From which lots.
        used: Vec<LotPart>,
        /// What came out.
        out: Vec<JarsOut>,
        ?
        /// Where it stands, in words.
        place: String,
        /// A remark for the label.
        note: String,
    }
}

fact! {
    /// A record of a batch was a slip: its jars are no more and its lots have their fruit back.
    BatchStruck {
        /// Which batch.
        batch: BatchId,
        /// Who struck it.
        person: PersonId,
        ?
        /// Why.
        why: String,
    }
}

fact! {
    /// The lids of a batch were pressed, 12 to 24 hours after.
    SealsChecked {
        /// The check's own name.
        check: SealCheckId,
        /// Which batch.
        batch: BatchId,
        /// When, by the phone's clock.
        at: Millis,
        /// Who looked.
        person: PersonId,
        /// How many had not sealed.
        failed: i64,
        ?
        /// Of which size, when the batch has several.
        jar: String,
        /// What became of them: `reprocessed`, `fridge`, `freezer` or `fed`.
        became: String,
    }
}

fact! {
    /// Jars were taken from the pantry.
    JarsUsed {
        /// This taking's own name.
        taking: UseId,
        /// Of which batch.
        batch: BatchId,
        /// Of which size.
        jar: String,
        /// How many; below nothing puts back what was taken by a slip.
        count: i64,
        /// When, by the phone's clock.
        at: Millis,
        /// Who took them.
        person: PersonId,
        ?
    }
}

fact! {
    /// The owner compared a row of a method with a printed guide and found it the same.
    RowConfirmed {
        /// The method.
        method: MethodId,
        /// Which row of it, by the key the method tables give it.
        row: String,
        /// The guide and its edition.
        edition: String,
        /// The page.
        page: String,
        /// The day it was compared.
        day: Day,
        /// Who compared it.
        person: PersonId,
        ?
        /// It turned out to be wrong; the row is unconfirmed again.
        withdrawn: bool,
    }
}
