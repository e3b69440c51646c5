//! Lots put together that share what is worked out: a room, a belief, a curve.

use std::collections::BTreeMap;

use super::belief::Belief;
use super::climate::RoomClimate;
use super::lot::LotInput;
use super::points::{Points, STRATA};
use super::reach::Reach;
use super::room::RoomDays;
use super::standing::{Standing, standing, unsorted};
use super::table::Model;
use crate::ids::{ClassId, CropId};
use crate::trade::crops::Stage;
use crate::units::{Day, Grams};

/// A room is followed from at most so many days before today.
const LONGEST_AGO: i32 = 800;

/// What lots must share to ripen alike, whatever they weigh.
pub(super) type Key =
    (CropId, ClassId, Option<Stage>, BTreeMap<Stage, Grams>, Day, Day, bool, usize, usize);

/// Things of which equal ones are worked out once. Their numbers go by their order, not by who
/// came first, so that the order of lots does not reach any sum.
struct Numbered<T> {
    distinct: Vec<T>,
    of_lot: Vec<usize>,
}

fn numbered<T: Ord>(of_lots: impl Iterator<Item = T> + Clone) -> Numbered<T> {
    let mut distinct: Vec<T> = of_lots.clone().collect();
    distinct.sort_unstable();
    distinct.dedup();
    let place = |one: &T| distinct.binary_search(one).expect("it is among them");
    let of_lot = of_lots.map(|one| place(&one)).collect();
    Numbered { distinct, of_lot }
}

/// A room for a model, and what was walked of it.
pub(super) struct Place {
    pub(super) days: RoomDays,
    /// By belief: the walks of its strata.
    pub(super) reaches: BTreeMap<usize, Vec<Reach>>,
}

/// The rooms and beliefs of lots.
pub(super) struct Piles {
    /// By belief.
    pub(super) points: Vec<Points>,
    /// By model and room.
    pub(super) places: BTreeMap<(&'static str, usize), Place>,
    rooms: Vec<usize>,
    beliefs: Vec<usize>,
}

impl Piles {
    pub(super) fn new(lots: &[LotInput], belief: &Belief, today: Day, last: Day) -> Self {
        let believed = |lot: &LotInput| lot.belief.unwrap_or(*belief);
        let rooms: Numbered<&RoomClimate> = numbered(lots.iter().map(|lot| &lot.room));
        let keys = numbered(lots.iter().map(|lot| lot.belief.as_ref().map(Belief::key)));
        let mut beliefs = vec![*belief; keys.distinct.len()];
        for (lot, number) in lots.iter().zip(&keys.of_lot) {
            beliefs[*number] = believed(lot);
        }
        let points: Vec<Points> = beliefs.iter().map(Points::new).collect();
        let mut firsts: BTreeMap<(&'static str, usize), (&'static Model, Day)> = BTreeMap::new();
        for (lot, room) in lots.iter().zip(&rooms.of_lot) {
            if let Some((_, _, model, _)) = lot.known() {
                let first = lot.picked.min(today).max(today.plus(-LONGEST_AGO));
                let of = firsts.entry((model.id.as_str(), *room)).or_insert((model, first));
                of.1 = of.1.min(first);
            }
        }
        let place = |(key, (model, first)): ((&'static str, usize), (&Model, Day))| {
            let days = RoomDays::new(rooms.distinct[key.1], model, first, last);
            (key, Place { days, reaches: BTreeMap::new() })
        };
        let mut all = Self {
            points,
            places: firsts.into_iter().map(place).collect(),
            rooms: rooms.of_lot,
            beliefs: keys.of_lot,
        };
        for (i, lot) in lots.iter().enumerate() {
            all.walk(i, lot);
        }
        all
    }

    fn walk(&mut self, i: usize, lot: &LotInput) {
        let Some((_, _, model, _)) = lot.known() else { return };
        let (belief, room) = (self.beliefs[i], self.rooms[i]);
        let Some(place) = self.places.get_mut(&(model.id.as_str(), room)) else { return };
        let (days, rates) = (&place.days, self.points[belief].rates);
        place.reaches.entry(belief).or_insert_with(|| {
            let walks: [Reach; STRATA] = rates.map(|m| Reach::new(days, m));
            walks.into()
        });
    }

    /// The points of a lot's belief.
    pub(super) fn points(&self, i: usize) -> &Points {
        &self.points[self.beliefs[i]]
    }

    /// The room of a lot of a model, with the walks for its belief.
    pub(super) fn place(&self, i: usize, model: &'static Model) -> Option<(&RoomDays, &[Reach])> {
        let place = self.places.get(&(model.id.as_str(), self.rooms[i]))?;
        Some((&place.days, place.reaches.get(&self.beliefs[i])?))
    }

    /// What stands of a lot.
    pub(super) fn standing(&self, i: usize, lot: &LotInput) -> Standing {
        match lot.known().and_then(|(_, _, model, _)| self.place(i, model)) {
            Some((room, _)) => standing(lot, room, self.points(i).losses[1]),
            None => unsorted(lot),
        }
    }

    /// What a lot shares with others.
    pub(super) fn key(&self, i: usize, lot: &LotInput, stands: Standing) -> Key {
        let LotInput { crop, class, stage, stages, picked, .. } = lot;
        (
            crop.clone(),
            class.clone(),
            *stage,
            stages.clone(),
            *picked,
            stands.day,
            stands.sorted,
            self.rooms[i],
            self.beliefs[i],
        )
    }
}
