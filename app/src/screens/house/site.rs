//! Where the holding lies: sunset, and with it every night, depends on it.

use leptos::prelude::*;
use shared_types::entry::SiteSet;

use super::edit::Keep;
use crate::farm::use_farm;
use crate::parts::Field;
use crate::typed::{changed, changed_words, degrees, typed_degrees, whole};

#[component]
pub(super) fn SiteForm() -> impl IntoView {
    let farm = use_farm();
    let said = RwSignal::new("");
    let before = farm.book.with_untracked(|book| book.nights.site.clone());
    let number =
        |number: Option<&i64>| RwSignal::new(number.map(i64::to_string).unwrap_or_default());
    let of =
        |udeg: Option<&i64>| RwSignal::new(udeg.map(|u| typed_degrees(*u)).unwrap_or_default());
    let latitude = of(before.latitude_udeg.get());
    let longitude = of(before.longitude_udeg.get());
    let zone = RwSignal::new(before.zone.get().cloned().unwrap_or_default());
    let morning = number(before.shadow_morning_minutes.get());
    let evening = number(before.shadow_evening_minutes.get());
    let make = Box::new(move || {
        said.set("");
        let stands = farm.book.with_untracked(|book| book.nights.site.clone());
        let shadow = |text: String| -> Result<Option<i64>, String> {
            let minutes = whole(&text)?;
            if minutes.is_some_and(|minutes| minutes > 240) {
                return Err("A hill's shadow is at most 240 minutes.".to_owned());
            }
            Ok(minutes)
        };
        let set = SiteSet {
            latitude_udeg: changed(
                degrees(&latitude.get_untracked(), 90)?,
                stands.latitude_udeg.get(),
            ),
            longitude_udeg: changed(
                degrees(&longitude.get_untracked(), 180)?,
                stands.longitude_udeg.get(),
            ),
            zone: changed_words(&zone.get_untracked(), stands.zone.get()),
            shadow_morning_minutes: changed(
                shadow(morning.get_untracked())?,
                stands.shadow_morning_minutes.get(),
            ),
            shadow_evening_minutes: changed(
                shadow(evening.get_untracked())?,
                stands.shadow_evening_minutes.get(),
            ),
        };
        Ok((set != SiteSet::default()).then(|| set.into()))
    });
    view! {
        <Keep make done=Callback::new(move |()| said.set("Kept."))>
            <Field label="Latitude, degrees" value=latitude hint="South of the equator below zero: -41.2" />
            <Field label="Longitude, degrees" value=longitude hint="West of Greenwich below zero." />
            <Field label="Time zone" value=zone hint="By its long name, such as Europe/Vienna." />
            <Field
                label="The sun comes over the hill, minutes after sunrise"
                value=morning
                inputmode="numeric"
            />
            <Field
                label="It goes behind the hill, minutes before sunset"
                value=evening
                inputmode="numeric"
            />
            <p class="sub" role="status">
                {said}
            </p>
        </Keep>
    }
}
