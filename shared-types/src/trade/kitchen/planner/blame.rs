//! Which limit is to blame for what is lost.

use std::collections::BTreeMap;

use super::desk::{Decided, Desk};
use super::plan::Limit;
use super::table::Table;
use super::words::day_words;
use crate::trade::methods::Kind;

/// Why fruit of a pool is lost at the end of a day: the limit that most often leaves least room
/// for it while it was there.
pub(super) fn reason(table: &Table<'_>, decided: &Decided, pool: usize, day: usize) -> String {
    let desk = Desk::of(table, decided);
    let flow = table.pools[pool].flow(decided.rooms[table.pools[pool].lot]);
    // The first morning on which fruit that is lost today was there.
    let before = day.checked_sub(1).map_or(0, |day| flow.gone_by[day]);
    let first = flow.ready_by.iter().position(|ready| *ready > before).unwrap_or(day).min(day);
    let mut votes: BTreeMap<Limit, (u32, usize, usize)> = BTreeMap::new();
    for (at, slot) in table.slots.iter().enumerate() {
        let kept = !matches!(table.way(slot).kind, Kind::Feed | Kind::Compost);
        if !kept || !slot.pools.contains(&pool) || !(first..=day).contains(&slot.taken) {
            continue;
        }
        let (limit, _) = desk.tightest(at);
        let vote = votes.entry(limit).or_insert((0, slot.taken, slot.taken));
        *vote = (vote.0 + 1, vote.1.min(slot.taken), vote.2.max(slot.taken));
    }
    let most =
        votes.into_iter().max_by_key(|(limit, (votes, ..))| (*votes, std::cmp::Reverse(*limit)));
    let Some((limit, (_, from, to))) = most else {
        return "No method here takes it: eat it, share it out, or feed it.".to_owned();
    };
    let (from, to) = (day_words(table.problem.day(from)), day_words(table.problem.day(to)));
    let when = if from == to { format!("on {from}") } else { format!("from {from} to {to}") };
    match limit {
        Limit::Hands => format!("No hands left for it {when}: more hours would save it."),
        Limit::Burners => format!("No burner free for it {when}."),
        Limit::Canner => format!("No canner load left for it {when}: one more would take it."),
        Limit::Dryer => format!("The dryer is full, or there is none, {when}."),
        Limit::Freezer => {
            format!("The freezer freezes no more in a day {when}: begin earlier, or share it out.")
        }
        Limit::FreezerRoom => "The freezer is full.".to_owned(),
        Limit::Jars => "No jars of that size are left: more jars would save it.".to_owned(),
        Limit::Lids => "No lids are left: more lids would save it.".to_owned(),
        Limit::MethodDay => format!("The household takes no more of it in a day {when}."),
        Limit::NoMethod => "No method here takes it.".to_owned(),
    }
}
