//! The totals as a table, for two splits and for paper.

use leptos::prelude::*;

use super::table::Table;
use crate::farm::use_farm;
use crate::words;

/// Lines down, columns across, sums at both ends.
#[component]
pub fn Grid(table: Memo<Table>) -> impl IntoView {
    let farm = use_farm();
    let caption = move || {
        table.with(|table| {
            let symbol = farm.unit().symbol();
            match table.across {
                Some(across) => format!("{} by {}, {symbol}", table.by.word(), across.word()),
                None => format!("By {}, {symbol}", table.by.word()),
            }
        })
    };
    let head = move || {
        table.with(|table| {
            let column = |label: &str| view! { <th class="n" scope="col">{label.to_owned()}</th> };
            let columns = table.columns.iter().map(|c| column(&c.label)).collect_view();
            view! {
                <tr>
                    <th scope="col">{table.by.word()}</th>
                    {column("all")} {columns} {column("bins")}
                </tr>
            }
        })
    };
    let body = move || {
        let unit = farm.unit();
        table.with(|table| {
            let line = |line: &super::table::Line| {
                let cells = line
                    .cells
                    .iter()
                    .map(|cell| view! { <td class="n">{cell_words(*cell, unit)}</td> })
                    .collect_view();
                view! {
                    <tr>
                        <th scope="row">{line.label.clone()}</th>
                        <td class="n">{words::number(line.total, unit)}</td>
                        {cells}
                        <td class="n">{line.bins}</td>
                    </tr>
                }
            };
            table.lines.iter().map(line).collect_view()
        })
    };
    let foot = move || {
        let unit = farm.unit();
        table.with(|table| {
            let sums = table
                .columns
                .iter()
                .map(|column| view! { <td class="n">{words::number(column.total, unit)}</td> })
                .collect_view();
            view! {
                <tr>
                    <th scope="row">"all"</th>
                    <td class="n">{words::number(table.total, unit)}</td>
                    {sums}
                    <td class="n">{table.bins}</td>
                </tr>
            }
        })
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label="Totals as a table">
            <table class="table">
                <caption>{caption}</caption>
                <thead>{head}</thead>
                <tbody>{body}</tbody>
                <tfoot>{foot}</tfoot>
            </table>
        </div>
    }
}

/// An empty cell says so without a figure.
fn cell_words(grams: shared_types::units::Grams, unit: shared_types::units::WeightUnit) -> String {
    if grams.0 == 0 { "–".to_owned() } else { words::number(grams, unit) }
}
