//! A room's thermometer: what it is reckoned by, readings by hand, a logger's file, and how warm it
//! was.

use leptos::prelude::*;
use shared_types::entry::{READINGS_MAX, ReadingsTaken, RoomClimateSet, RoomReading};
use shared_types::ids::{ReadingsId, RoomId};
use shared_types::loggers::{Clock, Logged, read};
use shared_types::units::{DAY_MS, MilliCelsius};
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;

use super::edit::Keep;
use crate::farm::use_farm;
use crate::parts::chart::LogChart;
use crate::parts::select::Select;
use crate::parts::{Field, Problem, Show, Toggle};
use crate::shell::clock;
use crate::typed::{celsius, changed, thousandths_of, typed, whole};
use crate::words;

/// Days that are drawn.
const DRAWN_DAYS: i64 = 7;
/// Lines that are told of a file that cannot be read whole.
const FAULTS_SHOWN: usize = 12;

/// Everything about the room's temperature besides its usual one.
#[component]
pub(super) fn RoomLog(room: RoomId) -> impl IntoView {
    let farm = use_farm();
    let lately = Memo::new(move |_| {
        let from = farm.now().plus(-DRAWN_DAYS * DAY_MS);
        farm.book.with(|book| {
            book.readings.get(&room).map_or_else(Vec::new, |log| log.since(from).collect())
        })
    });
    let last = move || {
        let reading = farm.book.with(|book| book.readings.get(&room).and_then(|log| log.last()));
        reading.map_or_else(
            || "No readings yet.".to_owned(),
            |reading| {
                let day = words::day(clock::day_of(reading.at));
                let at = farm.time(reading.at);
                format!("Last read {day}, {at}: {}C.", words::celsius(reading.millidegrees))
            },
        )
    };
    let any = move || lately.with(|all| !all.is_empty());
    view! {
        <section class="section" aria-label="Thermometer">
            <h3>"Thermometer"</h3>
            <p>{last}</p>
            <Show when=any>
                <LogChart readings=lately days=DRAWN_DAYS now=Signal::derive(move || farm.now()) />
            </Show>
            <Show when=move || farm.may_write()>
                <ByHand room />
                <Import room />
                <Follow room />
            </Show>
        </section>
    }
}

/// One reading, now.
#[component]
fn ByHand(room: RoomId) -> impl IntoView {
    let farm = use_farm();
    let degrees = RwSignal::new(String::new());
    let humid = RwSignal::new(String::new());
    let said = RwSignal::new(String::new());
    let make = Box::new(move || {
        let millidegrees = celsius(&degrees.get_untracked())?.ok_or("Type the temperature.")?;
        let humidity_permille = whole(&humid.get_untracked())?.map(|percent| percent * 10);
        let reading = RoomReading { at: farm.now(), millidegrees, humidity_permille };
        if !reading.is_likely() {
            return Err("Air holds at most 100 % humidity.".to_owned());
        }
        Ok(Some(taken(farm.fresh(ReadingsId::new), room, "hand", vec![reading]).into()))
    });
    let done = Callback::new(move |()| {
        said.set("Kept.".to_owned());
        degrees.set(String::new());
        humid.set(String::new());
    });
    view! {
        <Keep make done button="Keep the reading">
            <Field label="It is now, °C" value=degrees inputmode="decimal" />
            <Field label="Humidity, %, if measured" value=humid inputmode="numeric" />
        </Keep>
        <p class="outcome" role="status">
            {said}
        </p>
    }
}

fn taken(
    readings: ReadingsId,
    room: RoomId,
    source: &str,
    taken: Vec<RoomReading>,
) -> ReadingsTaken {
    ReadingsTaken { readings, room, source: source.to_owned(), taken }
}

/// A logger's file: looked at first, kept when it is right.
#[component]
fn Import(room: RoomId) -> impl IntoView {
    let farm = use_farm();
    let text = RwSignal::new(String::new());
    let name = RwSignal::new("file".to_owned());
    let ahead = RwSignal::new(typed(i64::from(clock::offset_minutes(farm.now())) * 1_000 / 60));
    let day_first = RwSignal::new(true);
    let seen = RwSignal::new(None::<Logged>);
    let problem = RwSignal::new(None::<String>);
    let said = RwSignal::new(String::new());
    let chosen = move |event: leptos::ev::Event| {
        let input = event.target().and_then(|t| t.dyn_into::<web_sys::HtmlInputElement>().ok());
        let Some(file) = input.and_then(|input| input.files()).and_then(|files| files.get(0))
        else {
            return;
        };
        name.set(file.name());
        wasm_bindgen_futures::spawn_local(async move {
            match JsFuture::from(file.text()).await {
                Ok(read) => text.set(read.as_string().unwrap_or_default()),
                Err(_) => problem.set(Some("That file cannot be read. Choose it again.".into())),
            }
        });
    };
    let look = move |_| {
        said.set(String::new());
        let hours = match thousandths_of(&ahead.get_untracked()) {
            Ok(hours) => hours.unwrap_or(0),
            Err(words) => return problem.set(Some(words)),
        };
        let offset_minutes = i32::try_from(hours * 60 / 1_000).unwrap_or(0);
        let clock = Clock { offset_minutes, day_first: day_first.get_untracked() };
        match read(&text.get_untracked(), clock) {
            Ok(logged) => {
                problem.set(None);
                seen.set(Some(logged));
            }
            Err(error) => {
                seen.set(None);
                problem.set(Some(words::sentence(&error.to_string())));
            }
        }
    };
    let keep = move |_| {
        let Some(logged) = seen.get_untracked() else { return };
        let source = name.get_untracked();
        wasm_bindgen_futures::spawn_local(async move {
            for part in logged.readings.chunks(READINGS_MAX) {
                let fact = taken(farm.fresh(ReadingsId::new), room, &source, part.to_vec());
                if let Err(words) = farm.keep(fact).await {
                    problem.set(Some(format!("Not all is kept. {words}")));
                    return;
                }
            }
            said.set(format!("Kept: {}.", words::count(logged.readings.len(), "reading")));
            seen.set(None);
        });
    };
    let found = move || {
        seen.get().map(|logged| {
            let faults = logged.faults.iter().take(FAULTS_SHOWN).map(|fault| {
                view! { <li>{format!("Line {}: {}", fault.line, fault.what)}</li> }
            });
            let faults = faults.collect_view();
            view! {
                <p>{summary(&logged)}</p>
                <ul class="history">{faults}</ul>
            }
        })
    };
    let some = move || seen.with(|seen| seen.as_ref().is_some_and(|log| !log.readings.is_empty()));
    view! {
        <details class="more">
            <summary>"Bring in a logger's file"</summary>
            <div class="form">
                <div class="field">
                    <label for="logger-file">"Comma-separated file"</label>
                    <input
                        id="logger-file"
                        type="file"
                        accept=".csv,.txt,text/csv,text/plain"
                        on:change=chosen
                    />
                </div>
                <Field
                    label="Its clock, hours ahead of UTC"
                    value=ahead
                    inputmode="decimal"
                    hint="For times without a zone of their own."
                />
                <Toggle label="Days are written day/month/year" on=day_first />
                <div class="buttons">
                    <button class="button" type="button" on:click=look>
                        "Look at it"
                    </button>
                </div>
                {found}
                <Problem text=problem />
                <Show when=some>
                    <div class="buttons">
                        <button class="button primary" type="button" on:click=keep>
                            "Keep these readings"
                        </button>
                    </div>
                </Show>
                <p class="outcome" role="status">
                    {said}
                </p>
            </div>
        </details>
    }
}

/// What a file holds, in a sentence or two.
fn summary(logged: &Logged) -> String {
    let when = |reading: &RoomReading| {
        let at = words::time(reading.at, clock::offset_minutes(reading.at));
        format!("{} {at}", words::day(clock::day_of(reading.at)))
    };
    let times = logged.readings.iter();
    let first = times.clone().min_by_key(|reading| reading.at);
    let last = times.max_by_key(|reading| reading.at);
    let span = match (first, last) {
        (Some(first), Some(last)) => format!(", {} to {}", when(first), when(last)),
        _ => String::new(),
    };
    let unit = if logged.fahrenheit { "Fahrenheit" } else { "Celsius" };
    let faults = match logged.faults.len() {
        0 => "every line can be read".to_owned(),
        n => format!("{} cannot be read and will be left out", words::count(n, "line")),
    };
    format!("{}{span}, in {unit}; {faults}.", words::count(logged.readings.len(), "reading"))
}

/// What the temperature is reckoned by.
#[component]
fn Follow(room: RoomId) -> impl IntoView {
    let farm = use_farm();
    let before = farm.book.with_untracked(|book| book.climates.get(&room).cloned());
    let before = before.unwrap_or_default();
    let shown = |t: Option<&MilliCelsius>| t.map(|t| typed(i64::from(t.0))).unwrap_or_default();
    let follow = RwSignal::new(before.follow.get().cloned().unwrap_or_else(|| "log".to_owned()));
    let by_day = RwSignal::new(shown(before.by_day.get()));
    let by_night = RwSignal::new(shown(before.by_night.get()));
    let said = RwSignal::new(String::new());
    let make = Box::new(move || {
        let chosen = Some(follow.get_untracked());
        let set = RoomClimateSet {
            room,
            follow: changed(chosen, before.follow.get()),
            by_day: changed(celsius(&by_day.get_untracked())?, before.by_day.get()),
            by_night: changed(celsius(&by_night.get_untracked())?, before.by_night.get()),
        };
        let nothing = RoomClimateSet { room, follow: None, by_day: None, by_night: None };
        Ok((set != nothing).then(|| set.into()))
    });
    let done = Callback::new(move |()| said.set("Kept.".to_owned()));
    let options = [
        ("log", "its readings, where there are any"),
        ("swing", "its readings, or day and night"),
        ("setting", "its usual temperature always"),
    ];
    let swings = move || follow.with(|follow| follow == "swing");
    view! {
        <details class="more">
            <summary>"What the forecast goes by"</summary>
            <Keep make done>
                <Select
                    id="room-follow"
                    label="Reckon this room by"
                    options=options.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec()
                    chosen=follow
                    on_choose=move |one| follow.set(one)
                />
                <Show when=swings>
                    <Field label="By day, °C" value=by_day inputmode="decimal" />
                    <Field label="By night, °C" value=by_night inputmode="decimal" />
                </Show>
            </Keep>
            <p class="outcome" role="status">
                {said}
            </p>
        </details>
    }
}
