//! The holding itself.

use leptos::prelude::*;
use shared_types::entry::HoldingSet;
use shared_types::units::{Altitude, WeightUnit};

use super::edit::Keep;
use crate::farm::use_farm;
use crate::parts::{Field, Segmented};
use crate::typed::{changed, changed_words, weight, whole};
use crate::words;

/// What heights are typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Height {
    Metres,
    Feet,
}

#[component]
pub(super) fn HoldingForm() -> impl IntoView {
    let farm = use_farm();
    let before = farm.book.with_untracked(|book| book.holding.clone());
    let unit_before = before.unit();
    let name = RwSignal::new(before.name.get().cloned().unwrap_or_default());
    let unit = RwSignal::new(unit_before);
    let height = RwSignal::new(Height::Metres);
    let altitude = RwSignal::new(
        before.altitude.get().map(|a| format!("{:.0}", a.metres())).unwrap_or_default(),
    );
    let altitude_was = altitude.get_untracked();
    let division = RwSignal::new(words::exact(before.division(), unit_before));
    let division_was = division.get_untracked();
    let minutes =
        RwSignal::new(before.kitchen_minutes.get().map(i64::to_string).unwrap_or_default());
    let said = RwSignal::new("");
    let make = Box::new(move || {
        said.set("");
        let typed = altitude.get_untracked();
        let is_same = typed == altitude_was && height.get_untracked() == Height::Metres;
        let above =
            whole(&typed)?.filter(|_| !is_same).map(|number| match height.get_untracked() {
                Height::Metres => Altitude::from_metres(number),
                Height::Feet => Altitude::from_feet(number),
            });
        let step = division.get_untracked();
        let step = if step == division_was { None } else { weight(&step, unit.get_untracked())? };
        let set = HoldingSet {
            name: changed_words(&name.get_untracked(), before.name.get()),
            altitude: changed(above, before.altitude.get()),
            weight_unit: changed(Some(unit.get_untracked()), Some(&unit_before)),
            scale_division: changed(step, before.scale_division.get()),
            kitchen_minutes: changed(
                whole(&minutes.get_untracked())?,
                before.kitchen_minutes.get(),
            ),
        };
        Ok((set != HoldingSet::default()).then(|| set.into()))
    });
    let done = Callback::new(move |()| said.set("Kept."));
    let units =
        vec![(WeightUnit::Kg, "kilograms".to_owned()), (WeightUnit::Lb, "pounds".to_owned())];
    let heights = vec![(Height::Metres, "metres".to_owned()), (Height::Feet, "feet".to_owned())];
    view! {
        <Keep make done>
            <Field label="Name" value=name />
            <Field
                label="Height above the sea"
                value=altitude
                inputmode="numeric"
                hint="Process times for jars go by it."
            />
            <Segmented label="Height in" options=heights chosen=height />
            <div class="field">
                <p>"The scale shows"</p>
                <Segmented label="The scale shows" options=units chosen=unit />
            </div>
            <Field
                label="Smallest step of the scale"
                value=division
                inputmode="decimal"
                hint="Two phones' bins this close in weight are asked about: same bin?"
            />
            <Field
                label="Minutes the kitchen has on a usual day"
                value=minutes
                inputmode="numeric"
            />
            <p class="sub" role="status">
                {said}
            </p>
        </Keep>
    }
}
