//! One evening in six fields.

use leptos::prelude::*;
use shared_types::entry::EveningNoted;
use shared_types::ids::{NightId, PlaceId};
use shared_types::outlook::TonightBook;
use shared_types::trade::cold::Sky;

use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Field, Segmented};
use crate::screens::house::edit::Keep;
use crate::typed::{celsius, whole};
use crate::words::key_of;

/// Wind in words; the first two are calm enough for the fit.
const WINDS: [(&str, &str); 3] =
    [("calm", "calm"), ("light", "leaves just move"), ("windy", "windy")];

#[component]
pub(super) fn EveningForm(
    told: Memo<Result<TonightBook, String>>,
    done: Callback<()>,
) -> impl IntoView {
    let farm = use_farm();
    let place = RwSignal::new(None::<PlaceId>);
    let [air, humidity, official] = [(); 3].map(|()| RwSignal::new(String::new()));
    let sky = RwSignal::new(String::new());
    let wind = RwSignal::new(String::new());
    let day = move || {
        told.with_untracked(|told| {
            told.as_ref().map_or_else(|_| farm.today.get_untracked(), |told| told.day)
        })
    };
    let make = Box::new(move || {
        let temperature =
            celsius(&air.get_untracked())?.ok_or("How warm is it? Type the air temperature.")?;
        let humidity = whole(humidity.get_untracked().trim().trim_end_matches('%'))?;
        if humidity.is_some_and(|percent| !(1..=100).contains(&percent)) {
            return Err("A humidity lies between 1 and 100 %. Leave it out if unsure.".to_owned());
        }
        let word = |word: String| (!word.is_empty()).then_some(word);
        let fact = EveningNoted {
            night: farm.fresh(NightId::new),
            day: day(),
            at: farm.now(),
            temperature,
            person: farm.person(),
            place: place.get_untracked(),
            dew_point: None,
            humidity_permille: humidity.map(|percent| percent * 10),
            official_low: celsius(&official.get_untracked())?,
            sky: word(sky.get_untracked()),
            wind: word(wind.get_untracked()),
            sensor_height_mm: None,
        };
        Ok(Some(fact.into()))
    });
    let places = Signal::derive(move || super::cold::places(farm, "the whole holding"));
    let skies = Sky::ALL.map(|sky| (key_of(&sky), sky.words().to_owned())).to_vec();
    let winds = WINDS.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec();
    let hint = move || {
        let at = told.with_untracked(|told| told.as_ref().ok().and_then(|told| told.read_at));
        at.map_or_else(String::new, |at| format!("Best at {}, out of the house.", farm.time(at)))
    };
    view! {
        <Keep make done button="Keep this evening">
            <Select
                id="evening-place"
                label="Thermometer at"
                options=places
                chosen=place
                on_choose=move |id| place.set(id)
            />
            <Field label="Air now, °C" value=air hint=hint() />
            <Field
                label="Humidity, %"
                value=humidity
                inputmode="numeric"
                hint="Can be left out; the forecast is then rougher."
            />
            <div class="field">
                <p>"Sky"</p>
                <Segmented label="Sky" options=skies chosen=sky />
            </div>
            <div class="field">
                <p>"Wind"</p>
                <Segmented label="Wind" options=winds chosen=wind />
            </div>
            <Field label="Official low, °C" value=official hint="Can be left out." />
        </Keep>
    }
}
