//! What the kitchen has and can do: limits of a day, stock, and what the household wants.

use leptos::prelude::*;
use shared_types::entry::{HandsSet, KitchenSet, StockSet, WantSet};
use shared_types::ids::MethodId;
use shared_types::outlook::kitchen::{hands_minutes, jar_word, stock, usual_jar};
use shared_types::trade::methods::{self, Jar, Kind};
use shared_types::units::{Day, Grams};

use super::form::{Form, Made, keep_and_tell};
use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Field, Toggle};
use crate::typed::{changed, exact_or_empty, weight, whole};

const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

fn text(value: Option<&i64>) -> RwSignal<String> {
    RwSignal::new(value.map(i64::to_string).unwrap_or_default())
}

/// The whole form page.
#[component]
pub fn Limits() -> impl IntoView {
    view! {
        <UsualDay />
        <OtherDay />
        <Stock />
        <Wants />
    }
}

/// What a usual day has.
#[component]
fn UsualDay() -> impl IntoView {
    let farm = use_farm();
    let unit = untrack(|| farm.unit());
    let before = farm.book.with_untracked(|book| book.kitchen.limits.clone());
    let usual = farm.book.with_untracked(|book| usual_jar(book));
    let grams = |value: Option<&Grams>| RwSignal::new(exact_or_empty(value.copied(), unit));
    let burners = text(before.burners.get());
    let loads = text(before.loads_per_day.get());
    let jars = text(before.jars_per_load.get());
    let dryer = grams(before.dryer_per_day.get());
    let freezer = grams(before.freezer_per_day.get());
    let free = grams(before.freezer_free.get());
    let fresh = grams(before.fresh_per_day.get());
    let jar = RwSignal::new(usual);
    let steam = RwSignal::new(before.steam_canner.get().copied().unwrap_or(false));
    let pressure =
        RwSignal::new(before.pressure_canner.get().cloned().unwrap_or_else(|| "none".to_owned()));
    let today = farm.today.get_untracked();
    // Monday first, whatever day it is.
    let monday = today.plus(-(today.number() + 3).rem_euclid(7));
    let week: Vec<RwSignal<String>> = (0..7)
        .map(|n| {
            let minutes = farm.book.with_untracked(|book| {
                let told = book.kitchen.limits.weekday_minutes.get();
                let told = told.and_then(|week| week.get(n as usize).copied());
                told.unwrap_or_else(|| hands_minutes(book, monday.plus(n)))
            });
            RwSignal::new(hours(minutes))
        })
        .collect();
    let fields = WEEKDAYS
        .into_iter()
        .zip(&week)
        .map(|(name, value)| view! { <Field label=name value=*value inputmode="decimal" /> })
        .collect_view();
    let done = RwSignal::new(false);
    let make = Box::new(move || -> Made {
        let number = |text: RwSignal<String>| whole(&text.get_untracked());
        let amount = |text: RwSignal<String>| weight(&text.get_untracked(), unit);
        let mut minutes = Vec::with_capacity(7);
        for day in &week {
            minutes.push(read_hours(&day.get_untracked())?);
        }
        let set = KitchenSet {
            burners: changed(number(burners)?, before.burners.get()),
            loads_per_day: changed(number(loads)?, before.loads_per_day.get()),
            jars_per_load: changed(number(jars)?, before.jars_per_load.get()),
            pressure_canner: changed(Some(pressure.get_untracked()), before.pressure_canner.get()),
            steam_canner: changed(Some(steam.get_untracked()), before.steam_canner.get()),
            dryer_per_day: changed(amount(dryer)?, before.dryer_per_day.get()),
            freezer_per_day: changed(amount(freezer)?, before.freezer_per_day.get()),
            freezer_free: changed(amount(free)?, before.freezer_free.get()),
            fresh_per_day: changed(amount(fresh)?, before.fresh_per_day.get()),
            jar: changed(Some(jar_word(jar.get_untracked())), before.jar.get()),
            weekday_minutes: changed(Some(minutes), before.weekday_minutes.get()),
        };
        Ok(if set == KitchenSet::default() { Vec::new() } else { vec![set.into()] })
    });
    let symbol = unit.symbol();
    let sizes: Vec<(Jar, String)> =
        Jar::ALL.into_iter().map(|jar| (jar, jar.words().to_owned())).collect();
    let gauges: Vec<(String, String)> =
        [("none", "none"), ("dial", "with a dial gauge"), ("weighted", "with a weighted gauge")]
            .map(|(key, words)| (key.to_owned(), words.to_owned()))
            .to_vec();
    view! {
        <section class="section">
            <header>
                <h2>"A usual day"</h2>
                <span class="sub">"all of it can be left out"</span>
            </header>
            <Form make done=Callback::new(move |()| done.set(true)) button="Keep the kitchen">
                <h3>"Hours of work, all hands together"</h3>
                <div class="week">{fields}</div>
                <Field label="Burners that can be used at once" value=burners inputmode="numeric" />
                <Field
                    label="Canner loads in a day"
                    value=loads
                    inputmode="numeric"
                    hint="Two when left out."
                />
                <Field
                    label="Quart jars the canner takes"
                    value=jars
                    inputmode="numeric"
                    hint="Seven when left out."
                />
                <Select
                    id="kitchen-jar"
                    label="Usual jar"
                    options=sizes
                    chosen=jar
                    on_choose=move |size| jar.set(size)
                />
                <Select
                    id="kitchen-pressure"
                    label="Pressure canner"
                    options=gauges
                    chosen=pressure
                    on_choose=move |kind| pressure.set(kind)
                />
                <Toggle label="There is an atmospheric steam canner" on=steam />
                <Field
                    label=format!("Freezer: fruit it freezes in 24 hours, {symbol}")
                    value=freezer
                    inputmode="decimal"
                    hint="About 3 to 5 kg for each 100 litres of freezer; more warms what is in it."
                />
                <Field
                    label=format!("Freezer: what still fits, {symbol}")
                    value=free
                    inputmode="decimal"
                />
                <Field
                    label=format!("Dryer: fruit it takes in a day, {symbol}")
                    value=dryer
                    inputmode="decimal"
                    hint="None when left out."
                />
                <Field
                    label=format!("Eaten fresh in a day, {symbol}")
                    value=fresh
                    inputmode="decimal"
                />
            </Form>
            <Kept done />
        </section>
    }
}

/// Says that it is kept, in place.
#[component]
fn Kept(done: RwSignal<bool>) -> impl IntoView {
    view! {
        <p class="sub" role="status">
            {move || done.get().then_some("Kept. Plan anew to use it.")}
        </p>
    }
}

/// A day that is not a usual one.
#[component]
fn OtherDay() -> impl IntoView {
    let farm = use_farm();
    let today = farm.today.get_untracked();
    let (date, time) = (RwSignal::new(today.to_string()), RwSignal::new(String::new()));
    let done = RwSignal::new(false);
    let make = Box::new(move || -> Made {
        let day: Day = date.get_untracked().parse().map_err(|_| "Choose the day.".to_owned())?;
        let text = time.get_untracked();
        if text.trim().is_empty() {
            return Err("Type how many hours that day has.".to_owned());
        }
        Ok(vec![HandsSet { day, minutes: read_hours(&text)? }.into()])
    });
    view! {
        <section class="section">
            <header>
                <h2>"Another day"</h2>
                <span class="sub">"when help comes, or nobody is home"</span>
            </header>
            <Form make done=Callback::new(move |()| done.set(true)) button="Keep that day">
                <Field label="Day" value=date kind="date" />
                <Field label="Hours of work" value=time inputmode="decimal" />
            </Form>
            <Kept done />
        </section>
    }
}

/// Jars, lids and what goes in.
#[component]
fn Stock() -> impl IntoView {
    let farm = use_farm();
    let mut items: Vec<(String, String)> = [Jar::HalfPint, Jar::Pint, Jar::Quart]
        .into_iter()
        .map(|jar| (stock::jar_item(jar), format!("Empty {} jars", jar.words())))
        .collect();
    for (key, words) in [
        (stock::LID, "New lids"),
        (stock::VINEGAR, "Vinegar of 5 %, mL"),
        (stock::LEMON_JUICE, "Bottled lemon juice, mL"),
        (stock::SUGAR, "Sugar, g"),
        (stock::SALT, "Canning salt, g"),
    ] {
        items.push((key.to_owned(), words.to_owned()));
    }
    let lines: Vec<(String, Option<i64>, RwSignal<String>, String)> = items
        .into_iter()
        .map(|(key, words)| {
            let have = farm.book.with_untracked(|book| stock::now(book, &key));
            (key, have, text(have.as_ref()), words)
        })
        .collect();
    let fields = lines
        .iter()
        .map(|(_, _, value, words)| {
            view! { <Field label=words.clone() value=*value inputmode="numeric" /> }
        })
        .collect_view();
    let done = RwSignal::new(false);
    let make = Box::new(move || -> Made {
        let mut facts = Vec::new();
        for (key, have, value, _) in &lines {
            let now = whole(&value.get_untracked())?;
            if let Some(now) = changed(now, have.as_ref()) {
                facts.push(StockSet { item: key.clone(), have: Some(now) }.into());
            }
        }
        Ok(facts)
    });
    view! {
        <section class="section">
            <header>
                <h2>"Stock"</h2>
                <span class="sub">"jars and lids count down as batches are made"</span>
            </header>
            <Form make done=Callback::new(move |()| done.set(true)) button="Keep the count">
                {fields}
            </Form>
            <Kept done />
        </section>
    }
}

/// How much a kilogram of a method counts, in percent, and how people say it.
const WEIGHTS: [(i64, &str); 4] = [(0, "never"), (50, "little"), (100, "as usual"), (200, "much")];

/// What the household wants.
#[component]
fn Wants() -> impl IntoView {
    let farm = use_farm();
    let kept = |kind: Kind| matches!(kind, Kind::Jar | Kind::Freeze | Kind::Dry);
    let rows = methods::all()
        .iter()
        .filter(|method| kept(method.kind))
        .map(|method| view! { <WantRow id=method.id.clone() name=method.name.clone() farm /> })
        .collect_view();
    view! {
        <section class="section">
            <header>
                <h2>"What is wanted"</h2>
                <span class="sub">"the plan weighs it"</span>
            </header>
            <ul class="list">{rows}</ul>
        </section>
    }
}

#[component]
fn WantRow(id: MethodId, name: String, farm: crate::farm::Farm) -> impl IntoView {
    let own = id.clone();
    let weight = Memo::new(move |_| {
        farm.book.with(|book| {
            let want = book.kitchen.wants.get(&own);
            want.and_then(|want| want.weight.get().copied()).unwrap_or(100)
        })
    });
    let buttons = WEIGHTS
        .map(|(percent, words)| {
            let id = id.clone();
            view! {
                <button
                    type="button"
                    aria-pressed=move || (weight.get() == percent).to_string()
                    on:click=move |_| {
                        let set = WantSet {
                            method: id.clone(),
                            weight: Some(percent),
                            most: None,
                        };
                        keep_and_tell(farm, vec![set.into()]);
                    }
                >
                    {words}
                </button>
            }
        })
        .into_iter()
        .collect_view();
    view! {
        <li class="row">
            <div class="body">
                <p class="title">{name.clone()}</p>
            </div>
            <div class="buttons">
                <div class="segmented" role="group" aria-label=name>
                    {buttons}
                </div>
            </div>
        </li>
    }
}

/// Minutes as hours are typed: `1.5`.
fn hours(minutes: i64) -> String {
    crate::typed::typed(minutes * 1000 / 60)
}

/// Hours as typed, in minutes.
fn read_hours(text: &str) -> Result<i64, String> {
    let milli = crate::typed::thousandths_of(text)?.unwrap_or(0);
    if !(0..=24_000 * 10).contains(&milli) {
        return Err(format!("{} hours are more than a day has hands for.", text.trim()));
    }
    Ok((milli * 60 + 500) / 1000)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_are_typed_with_a_point_or_a_comma_and_kept_in_minutes() {
        for (text, minutes) in [("4", 240), ("1,5", 90), ("0.25", 15), ("", 0), ("0", 0)] {
            assert_eq!(read_hours(text), Ok(minutes), "{text}");
        }
        assert!(read_hours("400").is_err());
        assert!(read_hours("four").is_err());
        assert_eq!(hours(90), "1.5");
        assert_eq!(read_hours(&hours(100)), Ok(100));
    }
}
