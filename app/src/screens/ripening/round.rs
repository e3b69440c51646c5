//! A round of one lot: ripe out, thrown, done.

use leptos::prelude::*;
use shared_types::entry::RoundMade;
use shared_types::ids::{LotId, RoomId, RoundId};
use shared_types::trade::crops::Defect;
use shared_types::units::Grams;

use super::found::{Found, Typed, read, words_of};
use super::lots::LotRow;
use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Field, Problem, Show};
use crate::words;

/// What was kept last, so that it can be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Which round.
    pub round: RoundId,
    /// What to say of it.
    pub words: String,
}

/// The form. One press fills in what is expected; everything but ripe and thrown is optional.
#[component]
pub fn RoundForm(
    id: LotId,
    found: Memo<Option<LotRow>>,
    /// Told when a round is on the disk.
    kept: Callback<Kept>,
) -> impl IntoView {
    let farm = use_farm();
    let lot = move || found.get_untracked();
    let unit = untrack(|| farm.unit());
    let left = move || lot().map_or(Grams::ZERO, |lot| lot.left);
    let [ripe, lost, soft, stays] = std::array::from_fn(|_| RwSignal::new(String::new()));
    let defect = RwSignal::new(None::<Defect>);
    let room = RwSignal::new(None::<RoomId>);
    let problem = RwSignal::new(None::<String>);
    let expected = move || found.with(|lot| lot.as_ref().map_or(Grams::ZERO, |lot| lot.expected));
    let ripens = Signal::derive(move || found.with(|lot| lot.as_ref().is_some_and(|l| l.ripens)));
    let rooms = farm.book.with_untracked(|book| {
        let mut all: Vec<(Option<RoomId>, String)> = book
            .rooms
            .iter()
            .filter(|(_, room)| room.retired.get() != Some(&true))
            .map(|(id, _)| (Some(*id), book.room_name(*id).to_owned()))
            .collect();
        all.sort_by(|a, b| a.1.cmp(&b.1));
        all.insert(0, (None, "where ripe ones usually stand".to_owned()));
        all
    });
    let defects: Vec<_> = std::iter::once((None, "not said".to_owned()))
        .chain(Defect::ALL.into_iter().map(|one| (Some(one), one.words().to_owned())))
        .collect();
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let [ripe, lost, soft, left_over] =
            [ripe, lost, soft, stays].map(|text| text.get_untracked());
        let typed = Typed { ripe, lost, soft, left: left_over };
        let said = match read(&typed, left(), unit) {
            Ok(said) => said,
            Err(words) => return problem.set(Some(words)),
        };
        problem.set(None);
        let name = lot().map_or_else(String::new, |lot| lot.title);
        let words = format!("Kept: {name}: {}.", words_of(&said, unit));
        let Found { ripe, lost, soft, left } = said;
        let round = farm.fresh(RoundId::new);
        let fact = RoundMade {
            ripe,
            lost,
            soft,
            left,
            ripe_room: room.get_untracked().filter(|_| ripe.is_some()),
            defect: defect.get_untracked().filter(|_| lost.is_some()).map(key),
            ..RoundMade::nothing(round, id, farm.now(), farm.person())
        };
        farm.keep_then(fact, move |result| match result {
            Ok(_) => {
                kept.try_run(Kept { round, words });
            }
            Err(words) => problem.set(Some(words)),
        });
    };
    let preset = move || {
        let grams = expected();
        (grams > Grams::ZERO).then(|| {
            let words = format!("Ripe: {}, as expected", words::weight(grams, unit));
            let value = words::number(grams, unit);
            view! {
                <button
                    class="button"
                    type="button"
                    aria-pressed=move || (ripe.get() == words::number(expected(), unit)).to_string()
                    on:click=move |_| ripe.set(value.clone())
                >
                    {words}
                </button>
            }
        })
    };
    view! {
        <h3>"Round"</h3>
        <form class="form" novalidate on:submit=keep>
            <Show when=ripens>
                <div class="buttons">{preset}</div>
                <Field
                    label=format!("Ripe, taken out, {}", unit.symbol())
                    value=ripe
                    inputmode="decimal"
                />
            </Show>
            <Field
                label=format!("Lost, thrown, {}", unit.symbol())
                value=lost
                inputmode="decimal"
            />
            <details class="more">
                <summary>"More: weighed, softening, why, where to"</summary>
                <Field
                    label=format!("What stays, weighed, {}", unit.symbol())
                    value=stays
                    inputmode="decimal"
                    hint="Can be left out. Weighed now and then it tells how much dries away."
                />
                <Field
                    label=format!("Softening, set apart, {}", unit.symbol())
                    value=soft
                    inputmode="decimal"
                    hint="Becomes a lot of its own, to be used first and never in a jar."
                />
                <Select
                    id="round-defect"
                    label="Why thrown"
                    options=defects
                    chosen=defect
                    on_choose=move |one| defect.set(one)
                />
                <Select
                    id="round-room"
                    label="Where the ripe ones go"
                    options=rooms
                    chosen=room
                    on_choose=move |one| room.set(one)
                />
            </details>
            <Problem text=problem />
            <div class="buttons">
                <button class="button primary big" type="submit">
                    "Done"
                </button>
            </div>
        </form>
    }
}

/// A defect as the log writes it.
fn key(defect: Defect) -> String {
    match serde_json::to_value(defect) {
        Ok(serde_json::Value::String(word)) => word,
        _ => "other".to_owned(),
    }
}
