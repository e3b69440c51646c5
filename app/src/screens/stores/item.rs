//! One store: where it stands, how long it keeps, why it stands where it stands in the order.

use leptos::prelude::*;
use shared_types::entry::RoundMade;
use shared_types::ids::RoundId;
use shared_types::outlook::StoreRow;
use shared_types::trade::provenance::cite;
use shared_types::units::Day;

use super::Open;
use crate::farm::use_farm;
use crate::parts::{Problem, Show};
use crate::words;

#[component]
pub(super) fn Item(
    row: Memo<Option<StoreRow>>,
    open: RwSignal<Open>,
    said: RwSignal<String>,
) -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    // A look that found everything as it was.
    let sound = move |_| {
        let Some(row) = row.get_untracked() else { return };
        let fact =
            RoundMade::nothing(farm.fresh(RoundId::new), row.lot.id, farm.now(), farm.person());
        farm.keep_then(fact, move |kept| match kept {
            Ok(_) => said.set(format!("Kept: {} all sound.", row.name)),
            Err(reason) => problem.set(Some(format!("Not kept. {reason}"))),
        });
    };
    let show = move |to: fn(shared_types::ids::LotId) -> Open| {
        if let Some(row) = row.get_untracked() {
            open.set(to(row.lot.id));
        }
    };
    let cures = Memo::new(move |_| {
        row.with(|row| {
            row.as_ref().is_some_and(|row| row.cure.state != "not" || row.cure.until.is_some())
        })
    });
    view! {
        <li class="row">
            {move || row.get().map(|row| body(&row, farm.today.get(), farm.unit()))}
            <Problem text=problem />
            <Show when=move || farm.may_write()>
                <div class="buttons no-print">
                    <button class="button" on:click=sound>
                        "All sound"
                    </button>
                    <button class="button" on:click=move |_| show(Open::Look)>
                        "Found some\u{2026}"
                    </button>
                    <Show when=move || cures.get()>
                        <button class="button" on:click=move |_| show(Open::Cure)>
                            "Curing\u{2026}"
                        </button>
                    </Show>
                </div>
            </Show>
            {move || row.get().map(|row| why(&row))}
        </li>
    }
}

fn body(
    row: &StoreRow,
    today: Day,
    unit: shared_types::units::WeightUnit,
) -> impl IntoView + use<> {
    let day = |day: Day| words::day_or_today(day, today);
    let room = row.room_name.clone().unwrap_or_else(|| "no room said".to_owned());
    let look = if row.look_by <= today {
        "look at it now".to_owned()
    } else {
        format!("look by {}", day(row.look_by))
    };
    let left = match row.fruits {
        Some(fruits) => format!("{} \u{b7} {fruits} fruits", words::weight(row.left, unit)),
        None => words::weight(row.left, unit),
    };
    let keep = &row.ranked.keep_by;
    view! {
        <div class="body">
            <p class="title">{format!("{}, {}", row.name, row.place_name)}</p>
            <p class="sub">{format!("{left} \u{b7} {room} \u{b7} {}", row.cure.words)}</p>
            <p>{words::sentence(&row.ranked.reason)}</p>
        </div>
        <div class="right">
            <b>{format!("by {}", day(keep.from))}</b>
            <span class="sub">{look}</span>
        </div>
    }
}

/// Sources, cautions, the curve of its rounds.
fn why(row: &StoreRow) -> impl IntoView + use<> {
    let keep = &row.ranked.keep_by;
    let said = keep.said.iter().map(|said| {
        view! {
            <div class="note">
                <p>{said.text.clone()}</p>
                <p class="source">{cite(&said.source)}</p>
            </div>
        }
    });
    let lives = keep.lives.iter().map(|life| {
        let [least, most] = life.days;
        view! { <p class="source">{format!("{least} to {most} days: {}", cite(&life.source))}</p> }
    });
    let others = keep.cure.others.iter().map(|said| {
        view! { <p class="source">{format!("{} {}", said.text, cite(&said.source))}</p> }
    });
    let survival = row.survival.as_ref().map(|survival| {
        view! { <p>{words::sentence(&survival.words)}</p> }
    });
    view! {
        <details class="more">
            <summary>"Why, and how to keep it"</summary>
            <p>{words::sentence(&keep.why)}</p>
            <p>{format!("May keep until {}.", keep.to)}</p>
            {survival}
            {said.collect_view()}
            <h3>"Curing"</h3>
            <p>{row.cure.how.clone()}</p>
            <p class="source">{cite(&row.cure.source)}</p>
            {others.collect_view()}
            <h3>"How long it keeps"</h3>
            {lives.collect_view()}
        </details>
    }
}
