//! Year against year: bars to look at, and the same figures as a list to take away.

use leptos::prelude::*;
use shared_types::outlook::Season;
use shared_types::outlook::season::YearRow;
use shared_types::units::WeightUnit;

use crate::csv::{Cell, Table};
use crate::farm::use_farm;
use crate::parts::Show;
use crate::parts::export::ExportTable;
use crate::words;

#[component]
pub(super) fn Years(told: Memo<Season>) -> impl IntoView {
    let farm = use_farm();
    let any = move || told.with(|told| told.known_years.len() > 1);
    let left_out = move || told.with(|told| told.records_left_out);
    view! {
        <Show when=any>
            <section class="section">
                <header>
                    <h2>"Year against year"</h2>
                </header>
                {move || {
                    let unit = farm.unit();
                    told.with(|told| told.years.iter().map(|row| bars(row, told.year, unit)).collect_view())
                }}
                <Show when=Signal::derive(move || left_out() != 0)>
                    <p class="sub">
                        {move || format!(
                            "{} left out: those years have bins of that crop.",
                            words::count(left_out(), "record"),
                        )}
                    </p>
                </Show>
                <ExportTable
                    what="the years"
                    name=Signal::stored("years".to_owned())
                    make=move || told.with(|told| table(&told.years, farm.unit()))
                />
            </section>
        </Show>
    }
}

fn bars(row: &YearRow, year: i32, unit: WeightUnit) -> impl IntoView + use<> {
    let most = row.years.iter().map(|cell| cell.grams.0).max().unwrap_or(0).max(1);
    let bars = row.years.iter().map(|cell| {
        let width = format!("{:.1}%", cell.grams.0 as f64 * 100.0 / most as f64);
        let tone = if cell.year == year { "ripe" } else { "green" };
        let per_plant = cell
            .per_plant
            .map(|grams| format!(" \u{b7} {} a plant", words::weight(grams, unit)))
            .unwrap_or_default();
        let recorded = if cell.recorded { " \u{b7} from notes" } else { "" };
        view! {
            <div class=format!("bar {tone}")>
                <span class="name">{cell.year.to_string()}</span>
                <span class="n">
                    {format!("{}{per_plant}{recorded}", words::weight(cell.grams, unit))}
                </span>
                <div class="track">
                    <div class="fill" style:width=width></div>
                </div>
            </div>
        }
    });
    view! {
        <h3>{row.name.clone()}</h3>
        <div class="bars">{bars.collect_view()}</div>
    }
}

fn table(years: &[YearRow], unit: WeightUnit) -> Table {
    let day = |day: Option<shared_types::units::Day>| {
        Cell::text(day.map(|day| day.to_string()).unwrap_or_default())
    };
    let rows = years.iter().flat_map(|row| {
        row.years.iter().map(move |cell| {
            vec![
                Cell::text(row.name.clone()),
                Cell::Number(cell.year.to_string()),
                Cell::weight(cell.grams, unit),
                cell.per_plant
                    .map_or_else(|| Cell::Number(String::new()), |grams| Cell::weight(grams, unit)),
                day(cell.first),
                day(cell.last),
                Cell::text(if cell.recorded { "notes" } else { "bins" }),
            ]
        })
    });
    let (weight, per_plant) = (unit.symbol().to_owned(), format!("{} a plant", unit.symbol()));
    let header = ["what", "year", &weight, &per_plant, "first", "last", "from"];
    Table { header: header.map(str::to_owned).to_vec(), rows: rows.collect() }
}
