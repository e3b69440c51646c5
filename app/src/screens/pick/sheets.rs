//! The sheets behind the chips: everything there is to choose, as big buttons, and something new
//! with only a name.

use leptos::prelude::*;
use shared_types::book::{Field as Register, Pick};
use shared_types::ids::{CropId, VarietyId};
use shared_types::trade::crops;

use super::new::{NewBinType, NewPick, NewPlace, NewVariety};
use super::state::State;
use crate::order;
use crate::parts::{Choice, Sheet};
use crate::words;

/// Why a sheet was opened, when Keep opened it.
#[component]
fn Asked(state: State) -> impl IntoView {
    move || {
        state.asked.get().map(|words| {
            view! {
                <p class="asked" role="alert">
                    {words}
                </p>
            }
        })
    }
}

#[component]
pub(super) fn PickSheet(state: State) -> impl IntoView {
    if state.changing.with_untracked(Option::is_some) {
        return view! {
            <Sheet title="Pick" on_close=move || state.close()>
                <p class="empty">
                    "A bin stays in its pick. To move it, take it out and keep it again there."
                </p>
            </Sheet>
        }
        .into_any();
    }
    let farm = state.farm;
    let choices = move || {
        let chosen = state.chosen.with(|chosen| chosen.pick);
        let today = farm.today.get();
        farm.book.with(|book| {
            let picks = book.picks.iter().filter(|(_, pick)| !is_set(&pick.closed));
            let day = |pick: &Pick| pick.day.get().map(ToString::to_string).unwrap_or_default();
            order::by_words_down(picks, |(_, pick)| day(pick))
                .into_iter()
                .map(|(id, pick)| {
                    let id = *id;
                    let day = pick.day.get().map(|day| words::day_or_today(*day, today));
                    view! {
                        <Choice
                            title=book.pick_name(id)
                            sub=day.unwrap_or_default()
                            pressed=chosen == Some(id)
                            on_press=move || state.choose_pick(id)
                        />
                    }
                })
                .collect_view()
        })
    };
    view! {
        <Sheet title="Pick" on_close=move || state.close()>
            <Asked state />
            <div class="choices">{choices}</div>
            <NewPick state />
        </Sheet>
    }
    .into_any()
}

#[component]
pub(super) fn PlaceSheet(state: State) -> impl IntoView {
    let farm = state.farm;
    let choices = move || {
        let chosen = state.chosen.with(|chosen| chosen.place);
        farm.book.with(|book| {
            let places = book.places.iter().filter(|(_, place)| !is_set(&place.retired));
            order::by_words(places, |(id, _)| book.place_name(**id).to_lowercase())
                .into_iter()
                .map(|(id, place)| {
                    let id = *id;
                    let plants = place.plants.get().map(|n| format!("{n} plants"));
                    view! {
                        <Choice
                            title=book.place_name(id)
                            sub=plants.unwrap_or_default()
                            pressed=chosen == Some(id)
                            on_press=move || state.choose_place(id)
                        />
                    }
                })
                .collect_view()
        })
    };
    view! {
        <Sheet title="Place" on_close=move || state.close()>
            <Asked state />
            <div class="choices">{choices}</div>
            <NewPlace state />
        </Sheet>
    }
}

#[component]
pub(super) fn CropSheet(state: State) -> impl IntoView {
    let farm = state.farm;
    let varieties = move || {
        let chosen = state.chosen.with(|chosen| chosen.variety);
        farm.book.with(|book| {
            let varieties = book
                .varieties
                .iter()
                .filter(|(_, variety)| !is_set(&variety.retired))
                .filter_map(|(id, variety)| Some((*id, variety.crop.get()?.clone())));
            let key = |(id, crop): &(VarietyId, CropId)| {
                format!("{crop} {}", book.variety_name(*id).to_lowercase())
            };
            order::by_words(varieties, key)
                .into_iter()
                .map(|(id, crop)| {
                    let sub = words::crop_name(&crop).to_lowercase();
                    view! {
                        <Choice
                            title=book.variety_name(id)
                            sub
                            pressed=chosen == Some(id)
                            on_press=move || state.choose_crop(crop.clone(), Some(id))
                        />
                    }
                })
                .collect_view()
        })
    };
    let all = move || {
        let chosen = state.chosen.with(|chosen| (state.crop(), chosen.variety));
        crops::all()
            .iter()
            .map(|crop| {
                let slug = crop.slug.clone();
                let pressed = chosen == (slug.clone(), None);
                view! {
                    <Choice
                        title=crop.name.clone()
                        sub="no variety"
                        pressed
                        on_press=move || state.choose_crop(slug.clone(), None)
                    />
                }
            })
            .collect_view()
    };
    view! {
        <Sheet title="Crop and variety" on_close=move || state.close()>
            <div class="choices">{varieties}</div>
            <NewVariety state />
            <h3>"Crops"</h3>
            <div class="choices">{all}</div>
        </Sheet>
    }
}

#[component]
pub(super) fn BinTypeSheet(state: State) -> impl IntoView {
    let farm = state.farm;
    let choices = move || {
        let chosen = state.chosen.with(|chosen| chosen.bin_type);
        let unit = farm.unit();
        farm.book.with(|book| {
            book.bin_types
                .iter()
                .filter(|(_, kind)| !is_set(&kind.retired))
                .map(|(id, kind)| {
                    let id = *id;
                    let name = kind.name.get().cloned();
                    let tare = kind.tare.get().copied().unwrap_or_default();
                    let full = kind.full.get().map(|full| words::weight(*full, unit));
                    let full = full.map_or_else(String::new, |full| format!(", full {full}"));
                    let sub =
                        format!("weighs {} {}{full}", words::exact(tare, unit), unit.symbol());
                    view! {
                        <Choice
                            title=name.unwrap_or_else(|| "unnamed bin".to_owned())
                            sub
                            pressed=chosen == Some(id)
                            on_press=move || state.choose_bin_type(Some(id))
                        />
                    }
                })
                .collect_view()
        })
    };
    let none = move || state.chosen.with(|chosen| chosen.bin_type.is_none());
    view! {
        <Sheet title="Bin" on_close=move || state.close()>
            <div class="choices">
                {choices}
                {move || {
                    view! {
                        <Choice
                            title="No bin"
                            sub="nothing taken off the scale"
                            pressed=none()
                            on_press=move || state.choose_bin_type(None)
                        />
                    }
                }}
            </div>
            <NewBinType state />
        </Sheet>
    }
}

fn is_set(register: &Register<bool>) -> bool {
    register.get() == Some(&true)
}
