//! One entry into the book.

use std::fmt;
use std::sync::Arc;

use super::bin::{Bin, Signed};
use super::{Book, SetAside};
use crate::entry::{Decoded, Entry, Fact, LotMoved, READINGS_MAX, RoomReading, RoundMade};
use crate::hlc::{Hlc, Stamp};
use crate::units::{Grams, HEAVIEST, Millis, WeightError};

/// What became of an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It is in the book.
    Folded,
    /// It makes no sense; it stays in the log and is listed in [`Book::set_aside`].
    Ignored(Reason),
    /// A newer program wrote it; it waits in [`Book::deferred`].
    Deferred,
}

/// Why an entry was set aside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The payload does not hold what its kind must.
    Malformed(String),
    /// A weight no bin can have.
    Weight(WeightError),
    /// A name that already belongs to another fact.
    NameTaken,
    /// A bin cannot be a pair with itself.
    SameBin,
    /// Less than nothing cannot be taken or guessed.
    NotPositive,
    /// No round finds less than nothing, or more than a scale can weigh.
    Unlikely,
    /// No readings, too many for one entry, or one that no room can have.
    Reading,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Malformed(reason) => write!(f, "cannot be read: {reason}"),
            Self::Weight(error) => error.fmt(f),
            Self::NameTaken => f.write_str("its name already belongs to something else"),
            Self::SameBin => f.write_str("names one bin twice"),
            Self::NotPositive => f.write_str("holds a weight or a count that is not above nothing"),
            Self::Reading => f.write_str("holds no readings, too many, or one no room can have"),
            Self::Unlikely => f.write_str("holds a weight or a count that no round can find"),
        }
    }
}

impl Book {
    /// Folds the next entry of the log. Never fails and never stops: see [`Outcome`].
    pub fn fold(&mut self, entry: &Entry) -> Outcome {
        let outcome = match entry.decode() {
            Decoded::Fact(fact) => self.apply(fact, entry.stamp()),
            Decoded::Malformed { reason } => Err(Reason::Malformed(reason)),
            Decoded::Newer => {
                self.deferred.push(entry.clone());
                return Outcome::Deferred;
            }
        };
        match outcome {
            Ok(()) => Outcome::Folded,
            Err(reason) => {
                self.set_aside.push(SetAside {
                    id: entry.id(),
                    kind: entry.kind.clone(),
                    reason: reason.to_string(),
                });
                Outcome::Ignored(reason)
            }
        }
    }

    fn apply(&mut self, fact: Fact, stamp: Stamp) -> Result<(), Reason> {
        match fact {
            Fact::HoldingSet(set) => self.holding.write(set, stamp),
            Fact::PersonSet(set) => self.people.entry(set.person).or_default().write(set, stamp),
            Fact::PlaceSet(set) => self.places.entry(set.place).or_default().write(set, stamp),
            Fact::RoomSet(set) => self.rooms.entry(set.room).or_default().write(set, stamp),
            Fact::BinTypeSet(set) => {
                self.bin_types.entry(set.bin_type).or_default().write(set, stamp);
            }
            Fact::VarietySet(set) => {
                self.varieties.entry(set.variety).or_default().write(set, stamp);
            }
            Fact::PickSet(set) => self.picks.entry(set.pick).or_default().write(set, stamp),
            Fact::StandingSet(set) => {
                let classes = self.standing.entry(set.crop).or_default();
                classes.entry(set.class).or_default().write(set.room, stamp);
            }
            Fact::BinKept(fact) => {
                fact.gross.less_tare(fact.tare).map_err(Reason::Weight)?;
                let bin = self.bin(fact.bin);
                if bin.kept.is_some() {
                    return Err(Reason::NameTaken);
                }
                bin.kept = Some(Signed { stamp, fact });
            }
            Fact::BinCorrected(fact) => {
                if let Some(gross) = fact.gross {
                    gross.checked().map_err(Reason::Weight)?;
                }
                self.bin(fact.bin).correct(fact, stamp);
            }
            Fact::BinStruck(fact) => self.bin(fact.bin).strike(fact, stamp),
            Fact::BinsApart(fact) => {
                if fact.one == fact.other {
                    return Err(Reason::SameBin);
                }
                self.apart.insert((fact.one.min(fact.other), fact.one.max(fact.other)));
            }
            Fact::GuessMade(fact) => {
                if fact.grams.0 <= 0 {
                    return Err(Reason::NotPositive);
                }
                once(&mut self.guesses, fact.guess, Signed { stamp, fact })?;
            }
            Fact::ColdChecked(fact) => {
                once(&mut self.cold_checks, fact.check, Signed { stamp, fact })?;
            }
            Fact::LotMoved(fact) => {
                let moves = self.moves.entry(fact.lot).or_default();
                if let Err(place) = moves.binary_search_by_key(&(fact.at, stamp), when) {
                    moves.insert(place, Signed { stamp, fact });
                }
            }
            Fact::LotUsed(fact) => {
                if fact.grams.0 <= 0 {
                    return Err(Reason::NotPositive);
                }
                once(&mut self.takings, fact.taking, Signed { stamp, fact })?;
            }
            Fact::KitchenSet(set) => self.kitchen.limits.write(set, stamp),
            Fact::HandsSet(set) => {
                self.kitchen.hands.entry(set.day).or_default().write(set.minutes, stamp);
            }
            Fact::StockSet(set) => {
                if let Some(have) = set.have {
                    self.kitchen.stock.entry(set.item).or_default().write(have, stamp);
                }
            }
            Fact::WantSet(set) => {
                let want = self.kitchen.wants.entry(set.method.clone()).or_default();
                want.write(set, stamp);
            }
            Fact::PlanKept(fact) => self.kitchen.plan.write(fact, stamp),
            Fact::BatchSet(set) => {
                let batch = self.kitchen.batches.entry(set.batch).or_default();
                batch.planned.write(set, stamp);
            }
            Fact::TickSet(set) => {
                self.kitchen.ticks.entry(set.task.clone()).or_default().write(set, stamp);
            }
            Fact::BatchMade(fact) => self.make_batch(fact, stamp)?,
            Fact::BatchStruck(fact) => self.strike_batch(fact, stamp),
            Fact::SealsChecked(fact) => {
                if fact.failed < 0 {
                    return Err(Reason::NotPositive);
                }
                once(&mut self.kitchen.seals, fact.check, Signed { stamp, fact })?;
            }
            Fact::JarsUsed(fact) => {
                once(&mut self.kitchen.jars_used, fact.taking, Signed { stamp, fact })?;
            }
            Fact::RowConfirmed(fact) => {
                let rows = self.kitchen.confirmed.entry(fact.method.clone()).or_default();
                rows.entry(fact.row.clone()).or_default().write(fact, stamp);
            }
            Fact::SiteSet(set) => self.nights.site.write(set, stamp),
            Fact::PlantingSet(set) => {
                self.nights.plantings.entry(set.planting).or_default().write(set, stamp);
            }
            Fact::CoverSet(set) => {
                self.nights.covers.entry(set.place).or_default().write(set, stamp);
            }
            Fact::EveningNoted(fact) => {
                once(&mut self.nights.evenings, fact.night, Signed { stamp, fact })?;
            }
            Fact::LowNoted(fact) => {
                once(&mut self.nights.lows, fact.low, Signed { stamp, fact })?;
            }
            Fact::CureSet(set) => self.stores.cures.entry(set.lot).or_default().write(set, stamp),
            Fact::BinCounted(set) => {
                self.stores.counts.entry(set.bin).or_default().write(set, stamp);
            }
            Fact::SeasonRecorded(fact) => {
                if fact.grams.0 < 0 {
                    return Err(Reason::NotPositive);
                }
                once(&mut self.stores.records, fact.record, Signed { stamp, fact })?;
            }
            Fact::SeasonStruck(fact) => {
                self.stores.struck.insert(fact.record);
            }
            Fact::RoundMade(fact) => {
                if !likely(&fact) {
                    return Err(Reason::Unlikely);
                }
                once(&mut self.rounds, fact.round, Signed { stamp, fact })?;
            }
            Fact::RoundStruck(fact) => {
                self.rounds_struck.insert(fact.round);
            }
            Fact::ReadingsTaken(fact) => {
                let few = (1..=READINGS_MAX).contains(&fact.taken.len());
                if !few || !fact.taken.iter().all(RoomReading::is_likely) {
                    return Err(Reason::Reading);
                }
                Arc::make_mut(self.readings.entry(fact.room).or_default()).add(&fact);
            }
            Fact::RoomClimateSet(set) => {
                self.climates.entry(set.room).or_default().write(set, stamp);
            }
            Fact::LearningReset(fact) => {
                self.learning_from.entry(fact.crop.clone()).or_default().reset(&fact);
            }
        }
        Ok(())
    }

    fn bin(&mut self, id: crate::ids::BinId) -> &mut Bin {
        Arc::make_mut(self.bins.entry(id).or_default())
    }

    /// When what `fact` would overwrite was last written: a new entry's clock must pass it.
    pub fn written(&self, fact: &Fact) -> Option<Hlc> {
        match fact {
            Fact::HoldingSet(set) => self.holding.written(set),
            Fact::PersonSet(set) => self.people.get(&set.person)?.name.written(),
            Fact::PlaceSet(set) => self.places.get(&set.place)?.written(set),
            Fact::RoomSet(set) => self.rooms.get(&set.room)?.written(set),
            Fact::BinTypeSet(set) => self.bin_types.get(&set.bin_type)?.written(set),
            Fact::VarietySet(set) => self.varieties.get(&set.variety)?.written(set),
            Fact::PickSet(set) => self.picks.get(&set.pick)?.written(set),
            Fact::RoomClimateSet(set) => self.climates.get(&set.room)?.written(set),
            Fact::StandingSet(set) => self.standing.get(&set.crop)?.get(&set.class)?.written(),
            Fact::BinCorrected(fact) => self.bins.get(&fact.bin)?.written(),
            Fact::BinStruck(fact) => self.bins.get(&fact.bin)?.written(),
            Fact::KitchenSet(set) => self.kitchen.limits.written(set),
            Fact::HandsSet(set) => self.kitchen.hands.get(&set.day)?.written(),
            Fact::StockSet(set) => self.kitchen.stock.get(&set.item)?.written(),
            Fact::WantSet(set) => self.kitchen.wants.get(&set.method)?.written(set),
            Fact::PlanKept(_) => self.kitchen.plan.written(),
            Fact::BatchSet(set) => self.kitchen.batches.get(&set.batch)?.planned.written(set),
            Fact::TickSet(set) => self.kitchen.ticks.get(&set.task)?.written(),
            Fact::RowConfirmed(fact) => {
                self.kitchen.confirmed.get(&fact.method)?.get(&fact.row)?.written()
            }
            Fact::SiteSet(set) => self.nights.site.written(set),
            Fact::PlantingSet(set) => self.nights.plantings.get(&set.planting)?.written(set),
            Fact::CoverSet(set) => self.nights.covers.get(&set.place)?.written(set),
            Fact::EveningNoted(fact) => self.nights.evening_written(fact.day, fact.place),
            Fact::LowNoted(fact) => self.nights.low_written(fact.day, fact.place),
            Fact::CureSet(set) => self.stores.cures.get(&set.lot)?.written(set),
            Fact::BinCounted(set) => self.stores.counts.get(&set.bin)?.written(set),
            Fact::BatchMade(_)
            | Fact::BatchStruck(_)
            | Fact::SealsChecked(_)
            | Fact::JarsUsed(_)
            | Fact::SeasonRecorded(_)
            | Fact::SeasonStruck(_)
            | Fact::BinKept(_)
            | Fact::BinsApart(_)
            | Fact::GuessMade(_)
            | Fact::ColdChecked(_)
            | Fact::LotMoved(_)
            | Fact::LotUsed(_)
            | Fact::RoundMade(_)
            | Fact::RoundStruck(_)
            | Fact::ReadingsTaken(_)
            | Fact::LearningReset(_) => None,
        }
    }
}

/// Weights between nothing and what a scale can show; counts of nothing or more.
fn likely(round: &RoundMade) -> bool {
    let weights = [round.ripe, round.lost, round.soft, round.left];
    let counts = [round.sound_count, round.soft_count, round.lost_count];
    weights.into_iter().flatten().all(|grams| (Grams::ZERO..=HEAVIEST).contains(&grams))
        && counts.into_iter().flatten().all(|count| count >= 0)
}

fn when(moved: &Signed<LotMoved>) -> (Millis, Stamp) {
    (moved.fact.at, moved.stamp)
}

/// Adds a fact under its own name; the first of two stands.
pub(super) fn once<K: Ord, V>(
    all: &mut std::collections::BTreeMap<K, V>,
    name: K,
    fact: V,
) -> Result<(), Reason> {
    match all.entry(name) {
        std::collections::btree_map::Entry::Vacant(place) => {
            place.insert(fact);
            Ok(())
        }
        std::collections::btree_map::Entry::Occupied(_) => Err(Reason::NameTaken),
    }
}
