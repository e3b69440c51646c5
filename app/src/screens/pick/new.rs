//! Something new on the spot, with only a name: a pick, a place, a variety, a kind of bin.

use leptos::prelude::*;
use shared_types::entry::{BinTypeSet, Fact, PickSet, PlaceSet, VarietySet};
use shared_types::ids::{BinTypeId, CropId, PickId, PlaceId, VarietyId};
use shared_types::trade::crops;
use shared_types::wire::limits::NAME_MAX_CHARS;

use super::state::State;
use crate::parts::{Field, Problem};
use crate::typed::weight;

/// A form that keeps one fact and then chooses what it made.
#[component]
fn New(
    state: State,
    /// What the button says.
    button: &'static str,
    /// The name.
    name: RwSignal<String>,
    /// What the field says.
    label: &'static str,
    /// Makes the fact of the name, or says what is wrong.
    make: impl Fn(String) -> Result<Fact, String> + 'static,
    /// Chooses it once kept, unless the sheet was closed meanwhile.
    then: impl Fn() + Copy + 'static,
    #[prop(optional)] children: Option<Children>,
) -> impl IntoView {
    let problem = RwSignal::new(None::<String>);
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let typed: String = name.get_untracked().trim().chars().take(NAME_MAX_CHARS).collect();
        if typed.is_empty() {
            problem.set(Some("Type a name first.".to_owned()));
            return;
        }
        match make(typed) {
            Ok(fact) => state.farm.keep_then(fact, move |kept| match kept {
                Ok(_) if !problem.is_disposed() => then(),
                Ok(_) => {}
                Err(reason) => {
                    let words = format!("Not kept. {reason}");
                    if let Some(Some(words)) = problem.try_set(Some(words)) {
                        state.farm.tell(words);
                    }
                }
            }),
            Err(reason) => problem.set(Some(reason)),
        }
    };
    view! {
        <form class="form new" on:submit=submit>
            <Field label value=name />
            {children.map(|children| children())}
            <Problem text=problem />
            <button class="button big" type="submit">
                {button}
            </button>
        </form>
    }
}

#[component]
pub(super) fn NewPick(state: State) -> impl IntoView {
    let farm = state.farm;
    let pick = farm.fresh(PickId::new);
    let name = RwSignal::new(String::new());
    let make = move |name| {
        let day = farm.today.get_untracked();
        Ok(PickSet { pick, day: Some(day), name: Some(name), closed: None }.into())
    };
    let then = move || state.choose_pick(pick);
    view! { <New state name label="New pick, today" button="Open this pick" make then /> }
}

#[component]
pub(super) fn NewPlace(state: State) -> impl IntoView {
    let place = state.farm.fresh(PlaceId::new);
    let name = RwSignal::new(String::new());
    let make = move |name| {
        let nothing = PlaceSet {
            place,
            name: None,
            covered: None,
            watering: None,
            plants: None,
            area_dm2: None,
            retired: None,
        };
        Ok(PlaceSet { name: Some(name), ..nothing }.into())
    };
    let then = move || state.choose_place(place);
    view! { <New state name label="New place" button="Add this place" make then /> }
}

#[component]
pub(super) fn NewVariety(state: State) -> impl IntoView {
    let variety = state.farm.fresh(VarietyId::new);
    let name = RwSignal::new(String::new());
    let crop = RwSignal::new(untrack(|| state.crop()));
    let make = move |name| {
        let crop = crop.get_untracked();
        Ok(VarietySet { variety, crop: Some(crop), name: Some(name), retired: None }.into())
    };
    let then = move || state.choose_crop(crop.get_untracked(), Some(variety));
    let options = crops::all()
        .iter()
        .map(|of| {
            let slug = of.slug.clone();
            let selected = move || crop.with(|crop| *crop == slug);
            view! {
                <option value=of.slug.to_string() selected=selected>
                    {of.name.clone()}
                </option>
            }
        })
        .collect_view();
    view! {
        <New state name label="New variety" button="Add this variety" make then>
            <div class="field">
                <label for="new-variety-crop">"of crop"</label>
                <select
                    id="new-variety-crop"
                    on:change:target=move |event| {
                        crop.set(CropId::from(event.target().value().as_str()));
                    }
                >
                    {options}
                </select>
            </div>
        </New>
    }
}

#[component]
pub(super) fn NewBinType(state: State) -> impl IntoView {
    let bin_type = state.farm.fresh(BinTypeId::new);
    let name = RwSignal::new(String::new());
    let tare = RwSignal::new(String::new());
    let full = RwSignal::new(String::new());
    let make = move |name| {
        let unit = untrack(|| state.unit());
        let tare = weight(&tare.get_untracked(), unit)?;
        let full = weight(&full.get_untracked(), unit)?;
        Ok(BinTypeSet { bin_type, name: Some(name), tare, full, retired: None }.into())
    };
    let then = move || state.choose_bin_type(Some(bin_type));
    let unit = untrack(|| state.unit()).symbol();
    view! {
        <New state name label="New kind of bin" button="Add this kind" make then>
            <Field label=format!("Weighs empty, {unit}") value=tare inputmode="decimal" />
            <Field
                label=format!("Holds when full, {unit}")
                value=full
                inputmode="decimal"
                hint="Both can be left out and set later."
            />
        </New>
    }
}
