//! The season book: what each plant and bed gave, what went wrong where, year against year. Prints
//! as a page; every list leaves as CSV and JSON Lines, and earlier seasons come in from a spreadsheet.

mod past;
mod tables;
mod years;

use leptos::prelude::*;
use shared_types::outlook::season::{CropClasses, DefectTable, YieldRow};
use shared_types::outlook::{Season as SeasonBook, Today, season};
use shared_types::units::{Grams, WeightUnit};

use crate::csv::Table;
use crate::farm::use_farm;
use crate::parts::export::ExportTable;
use crate::parts::select::Select;
use crate::parts::{Empty, Screen, Sheet, Show, class_tone};
use crate::shell::clock;
use crate::words;

/// The Season screen.
#[component]
pub fn Season() -> impl IntoView {
    let farm = use_farm();
    let year = RwSignal::new(None::<i32>);
    let told = Memo::new(move |_| {
        let today =
            Today { day: farm.today.get(), offset_minutes: clock::offset_minutes(farm.now()) };
        let year = year.get().unwrap_or(today.day.year());
        farm.book.with(|book| season(book, year, today))
    });
    let importing = RwSignal::new(false);
    let shown = move || told.with(|told| told.year);
    let sub = Signal::derive(move || {
        let name = farm.book.with(|book| book.holding.name.get().cloned());
        format!("{} {}", name.unwrap_or_default(), shown()).trim().to_owned()
    });
    let years = Signal::derive(move || {
        let mut years = told.with(|told| told.known_years.clone());
        let this = farm.today.get().year();
        if !years.contains(&this) {
            years.insert(0, this);
        }
        years.into_iter().map(|year| (year, year.to_string())).collect::<Vec<_>>()
    });
    let any = move || told.with(|told| told.bins > 0 || !told.years.is_empty());
    view! {
        <Screen title="Season" sub>
            <Show
                when=move || !importing.get()
                fallback=move || view! {
                    <Sheet title="Earlier seasons" on_close=move || importing.set(false)>
                        <past::PastForm />
                    </Sheet>
                }
            >
                <div class="no-print">
                    <Select
                        id="season-year"
                        label="Year"
                        options=years
                        chosen=Signal::derive(shown)
                        on_choose=move |chosen| year.set(Some(chosen))
                    />
                </div>
                <Show
                    when=any
                    fallback=|| view! {
                        <Empty text="No season yet. Bins kept on Pick, and records of earlier seasons, make one." />
                    }
                >
                    <Book told />
                </Show>
                <div class="buttons no-print">
                    <button class="button" on:click=move |_| importing.set(true)>
                        "Bring in earlier seasons"
                    </button>
                </div>
            </Show>
        </Screen>
    }
}

#[component]
fn Book(told: Memo<SeasonBook>) -> impl IntoView {
    let farm = use_farm();
    let unit = Memo::new(move |_| farm.unit());
    let lead = move || told.with(|told| lead(told, unit.get()));
    view! {
        <div class="lead">
            <h2>{move || lead().0}</h2>
            {move || lead().1.into_iter().map(|sub| view! { <p class="sub">{sub}</p> }).collect_view()}
        </div>
        <List
            title="By variety" what="yields by variety" file="varieties" told
            table=move || told.with(|told| tables::yields(&told.varieties, unit.get(), false))
        />
        <section class="section">
            <header>
                <h2>"Classes"</h2>
            </header>
            {move || told.with(|told| classes(told, unit.get()))}
        </section>
        <years::Years told />
        <List
            title="By place" what="yields by place" file="places" told
            table=move || told.with(|told| tables::yields(&told.places, unit.get(), true))
        />
        <section class="section">
            <header>
                <h2>"What went wrong, and where"</h2>
                <span class="sub">"95 of 100 such ranges hold the true share"</span>
            </header>
            {move || told.with(|told| told.defects.iter().map(defect).collect_view())}
            <ExportTable
                what="defects"
                name=Signal::derive(move || format!("defects-{}", told.with(|told| told.year)))
                make=move || told.with(|told| tables::defects(told, unit.get()))
            />
        </section>
        <List
            title="Thrown away" what="waste" file="waste" told
            table=move || told.with(|told| tables::waste(told, unit.get()))
        />
        <List
            title="Guesses" what="guesses" file="guesses" told
            table=move || told.with(|told| tables::guesses(told, unit.get()))
        />
    }
}

/// A section that is one table, with its exports. Not there while the table is empty.
#[component]
fn List<F>(
    title: &'static str,
    what: &'static str,
    file: &'static str,
    told: Memo<SeasonBook>,
    table: F,
) -> impl IntoView
where
    F: Fn() -> Table + Copy + Send + Sync + 'static,
{
    let made = Memo::new(move |_| table());
    let name = Signal::derive(move || format!("{file}-{}", told.with(|told| told.year)));
    view! {
        <Show when=move || made.with(|made| !made.rows.is_empty())>
            <section class="section">
                <header>
                    <h2>{title}</h2>
                </header>
                {move || made.with(|made| tables::view(made, what))}
                <ExportTable what name make=table />
            </section>
        </Show>
    }
}

/// The answer in a line, and what frames it.
fn lead(told: &SeasonBook, unit: WeightUnit) -> (String, Vec<String>) {
    let mut subs = Vec::new();
    let bins = words::count(told.bins, "bin");
    subs.extend(told.first.zip(told.last).map(|(first, last)| {
        format!("{bins}, from {} to {}", words::day(first), words::day(last))
    }));
    let frosts = &told.frosts;
    subs.extend(frosts.first.zip(frosts.first_low).map(|(day, low)| {
        format!("first frost in the night after {}: {}", words::day(day), words::celsius(low))
    }));
    subs.extend(frosts.killing.map(|day| {
        let low = frosts.killing_low.map(|low| format!(", {}", words::celsius(low)));
        let at = frosts.killing_at.join(", ");
        format!("first killing frost seen {}: {at}{}", words::day(day), low.unwrap_or_default())
    }));
    if told.waste.total > Grams::ZERO {
        let (whole, tenth) = (told.waste.permille / 10, told.waste.permille % 10);
        let weight = words::weight(told.waste.total, unit);
        subs.push(format!("{weight} thrown away, {whole}.{tenth} % of it"));
    }
    (format!("{} picked in {}", words::weight(told.picked, unit), told.year), subs)
}

fn classes(told: &SeasonBook, unit: WeightUnit) -> impl IntoView + use<> {
    let crop = |crop: &CropClasses| {
        let bars = crop.shares.iter().map(|share| {
            let tone = class_tone(&crop.crop, &share.class);
            let width = format!("{:.1}%", share.permille as f64 / 10.0);
            let percent = format!("{} %", (share.permille + 5) / 10);
            view! {
                <div class=format!("bar {tone}")>
                    <span class="name">{share.name.clone()}</span>
                    <span class="n">
                        {format!("{} \u{b7} {percent}", words::weight(share.grams, unit))}
                    </span>
                    <div class="track">
                        <div class="fill" style:width=width></div>
                    </div>
                </div>
            }
        });
        view! {
            <h3>{format!("{}, {}", crop.name, words::weight(crop.total, unit))}</h3>
            <div class="bars">{bars.collect_view()}</div>
        }
    };
    told.classes.iter().map(crop).collect_view()
}

/// One comparison: the finding first, then the shares with their ranges.
fn defect(table: &DefectTable) -> impl IntoView + use<> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let rows = table.groups.iter().map(|group| {
        let share = &group.share;
        view! {
            <tr>
                <th scope="row">{share.label.clone()}</th>
                <td class="n">{percent(share.share)}</td>
                <td class="n">
                    {format!("{} to {}", percent(share.from), percent(share.to))}
                </td>
                <td class="n">{format!("{:.0}", share.fruits)}</td>
            </tr>
        }
    });
    let title =
        format!("{}, {} by {}", table.crop_name, words::defect_words(&table.defect), table.by);
    (table.groups.len() > 1).then(|| {
        view! {
            <h3>{title.clone()}</h3>
            <p>{words::sentence(&table.words)}</p>
            <div class="scroll" tabindex="0" role="region" aria-label=title>
                <table class="table">
                    <thead>
                        <tr>
                            <th></th>
                            <th class="n">"share"</th>
                            <th class="n">"range"</th>
                            <th class="n">"fruits"</th>
                        </tr>
                    </thead>
                    <tbody>{rows.collect_view()}</tbody>
                </table>
            </div>
        }
    })
}

/// What a yield row is called in lists that hold places too.
fn row_name(row: &YieldRow, place: bool) -> String {
    match (&row.place_name, place) {
        (Some(name), true) => format!("{name}: {}", row.name),
        _ => row.name.clone(),
    }
}
