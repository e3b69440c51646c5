//! The outings.

use leptos::prelude::*;
use shared_types::entry::PickSet;
use shared_types::ids::PickId;
use shared_types::units::Day;

use super::edit::{Keep, Line, Things};
use crate::farm::use_farm;
use crate::parts::{Field, Toggle};
use crate::typed::{changed, changed_words};
use crate::words;

#[component]
pub(super) fn Picks() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        let (unit, today) = (farm.unit(), farm.today.get());
        farm.book.with(|book| {
            book.picks
                .iter()
                .map(|(id, pick)| {
                    let total = book.by_class(*id, None).into_values().sum();
                    let closed = pick.closed.get() == Some(&true);
                    let sub = [
                        pick.day.get().map(|day| words::day_or_today(*day, today)),
                        Some(words::weight(total, unit)),
                        closed.then(|| "over".to_owned()),
                    ];
                    // The latest day first.
                    let day = pick.day.get().map_or(0, |day| day.number());
                    Line {
                        id: id.0,
                        order: format!("{:08}", 99_999_999 - day),
                        title: book.pick_name(*id).to_owned(),
                        sub: sub.into_iter().flatten().collect::<Vec<_>>().join(" \u{b7} "),
                        retired: false,
                    }
                })
                .collect::<Vec<_>>()
        })
    });
    view! {
        <Things
            lines
            new="New pick"
            empty="No picks yet. Open one before the first bin: a clear-out, a Tuesday round."
            form=|id, done| view! { <PickForm id=id.map(PickId) done /> }.into_any()
        />
    }
}

#[component]
fn PickForm(id: Option<PickId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.picks.get(&id).cloned()))
        .unwrap_or_default();
    let pick = id.unwrap_or_else(|| farm.fresh(PickId::new));
    let name = RwSignal::new(before.name.get().cloned().unwrap_or_default());
    let today = farm.today.get_untracked();
    let day = RwSignal::new(before.day.get().copied().unwrap_or(today).to_string());
    let closed = RwSignal::new(before.closed.get().copied().unwrap_or(false));
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.name.get());
        if name.is_none() && before.name.get().is_none() {
            return Err("Type a name first, such as Last clear-out.".to_owned());
        }
        let typed = day.get_untracked();
        let day: Day = typed
            .trim()
            .parse()
            .map_err(|_| format!("`{}` is not a day like 2026-10-09", typed.trim()))?;
        let set = PickSet {
            pick,
            day: changed(Some(day), before.day.get()),
            name,
            closed: changed(Some(closed.get_untracked()), before.closed.get())
                .filter(|now| *now || before.closed.get().is_some()),
        };
        let nothing = PickSet { pick, day: None, name: None, closed: None };
        Ok((set != nothing).then(|| set.into()))
    });
    view! {
        <Keep make done>
            <Field label="Name" value=name />
            <Field label="Day" value=day kind="date" />
            <Toggle label="Over: not offered on Pick any more" on=closed />
        </Keep>
    }
}
