//! What was seen after a cold night. While it is still frozen nothing shows, so there are two looks:
//! only the one after thaw settles what fruit picked there may be used for.

use leptos::prelude::*;
use shared_types::entry::ColdChecked;
use shared_types::ids::{ColdCheckId, PlaceId};

use crate::farm::{Farm, use_farm};
use crate::order;
use crate::parts::select::Select;
use crate::parts::{Empty, Field, Row, Segmented, Show};
use crate::screens::house::edit::Keep;
use crate::shell::clock;
use crate::typed::celsius;
use crate::words;

#[component]
pub(super) fn Cold() -> impl IntoView {
    let farm = use_farm();
    let said = RwSignal::new("");
    let place = RwSignal::new(None::<PlaceId>);
    let (look, vines, fruit) = (
        RwSignal::new("thawed".to_owned()),
        RwSignal::new(String::new()),
        RwSignal::new(String::new()),
    );
    let low = RwSignal::new(String::new());
    let places = Signal::derive(move || places(farm, "choose"));
    let make = Box::new(move || {
        said.set("");
        let place = place.get_untracked().ok_or("Where was it? Choose a place.")?;
        let vines = vines.get_untracked();
        let fruit = fruit.get_untracked();
        if vines.is_empty() {
            return Err("How are the vines? Press alive, hurt or dead.".to_owned());
        }
        if fruit.is_empty() {
            return Err("How is the fruit? Press sound or frozen.".to_owned());
        }
        let fact = ColdChecked {
            check: farm.fresh(ColdCheckId::new),
            place,
            at: farm.now(),
            look: look.get_untracked(),
            vines,
            fruit,
            low: celsius(&low.get_untracked())?,
        };
        Ok(Some(fact.into()))
    });
    let done = Callback::new(move |()| {
        said.set("Kept.");
        vines.set(String::new());
        fruit.set(String::new());
        low.set(String::new());
    });
    let words_of = |all: &[&str]| all.iter().map(|w| ((*w).to_owned(), (*w).to_owned())).collect();
    view! {
        <Keep make done button="Keep this look">
            <Select
                id="cold-place"
                label="Place"
                options=places
                chosen=place
                on_choose=move |id| place.set(id)
            />
            <div class="field">
                <p>"The look"</p>
                <Segmented
                    label="The look"
                    options=vec![
                        ("frozen".to_owned(), "still frozen".to_owned()),
                        ("thawed".to_owned(), "after thaw".to_owned()),
                    ]
                    chosen=look
                />
                <p class="hint">"Look twice: only after thaw does damage show."</p>
            </div>
            <div class="field">
                <p>"Vines"</p>
                <Segmented
                    label="Vines"
                    options=words_of(&["alive", "hurt", "dead"])
                    chosen=vines
                />
            </div>
            <div class="field">
                <p>"Fruit"</p>
                <Segmented label="Fruit" options=words_of(&["sound", "frozen"]) chosen=fruit />
            </div>
            <Field
                label="Lowest of the night there, °C"
                value=low
                hint="Can be left out."
            />
            <p class="sub" role="status">
                {said}
            </p>
        </Keep>
        <Checks />
    }
}

/// The places in use, with `none` for none of them first. Tracked.
pub(super) fn places(farm: Farm, none: &str) -> Vec<(Option<PlaceId>, String)> {
    farm.book.with(|book| {
        let places = book
            .places
            .iter()
            .filter(|(_, place)| place.retired.get() != Some(&true))
            .map(|(id, _)| (Some(*id), book.place_name(*id).to_owned()));
        let mut places = order::by_words(places, |(_, name)| name.to_lowercase());
        places.insert(0, (None, none.to_owned()));
        places
    })
}

#[component]
fn Checks() -> impl IntoView {
    let farm = use_farm();
    let rows = move || {
        let today = farm.today.get();
        farm.book.with(|book| {
            let checks = book.cold_checks.values().map(|check| &check.fact);
            order::by_words_down(checks, |check| format!("{:020}", check.at.0))
                .into_iter()
                .map(|check| {
                    let look = match check.look.as_str() {
                        "thawed" => "after thaw",
                        "frozen" => "still frozen",
                        other => other,
                    };
                    let day = words::day_or_today(clock::day_of(check.at), today);
                    let low = check.low.map(|low| format!(" \u{b7} low {}C", words::celsius(low)));
                    view! {
                        <Row
                            title=book.place_name(check.place)
                            sub=format!("vines {}, fruit {}, {look}", check.vines, check.fruit)
                            right=format!("{day}, {}", farm.time(check.at))
                            right_sub=low.unwrap_or_default().trim_start_matches(" \u{b7} ").to_owned()
                        />
                    }
                })
                .collect_view()
        })
    };
    let none = Memo::new(move |_| farm.book.with(|book| book.cold_checks.is_empty()));
    view! {
        <section class="section">
            <header>
                <h2>"Looks so far"</h2>
            </header>
            <Show when=move || none.get()>
                <Empty text="No looks yet. Without one, fruit counts as picked from living vines." />
            </Show>
            <ul class="list">{rows}</ul>
        </section>
    }
}
