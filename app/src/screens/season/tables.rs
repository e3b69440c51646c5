//! The lists of the season book, as they are shown and as they leave the program.

use leptos::prelude::*;
use shared_types::outlook::Season;
use shared_types::outlook::season::YieldRow;
use shared_types::units::{Grams, WeightUnit};

use super::row_name;
use crate::csv::{Cell, Table};
use crate::words;

fn header<const N: usize>(names: [&str; N]) -> Vec<String> {
    names.map(str::to_owned).to_vec()
}

fn optional(grams: Option<Grams>, unit: WeightUnit) -> Cell {
    grams.map_or_else(|| Cell::Number(String::new()), |grams| Cell::weight(grams, unit))
}

fn whole(number: Option<i64>) -> Cell {
    Cell::Number(number.map(|number| number.to_string()).unwrap_or_default())
}

/// Yields, by variety or by place.
pub(super) fn yields(rows: &[YieldRow], unit: WeightUnit, place: bool) -> Table {
    let symbol = unit.symbol();
    let rows = rows.iter().map(|row| {
        vec![
            Cell::text(row_name(row, place)),
            Cell::weight(row.picked, unit),
            optional(row.per_plant, unit),
            optional(row.per_m2, unit),
            whole(row.plants),
            Cell::weight(row.sound, unit),
            Cell::text(row.first.to_string()),
            Cell::text(row.last.to_string()),
        ]
    });
    let per_plant = format!("{symbol} a plant");
    let per_m2 = format!("{symbol} a m²");
    let sound = format!("sound {symbol}");
    Table {
        header: header(["what", symbol, &per_plant, &per_m2, "plants", &sound, "first", "last"]),
        rows: rows.collect(),
    }
}

/// Waste, by room, crop and defect.
pub(super) fn waste(told: &Season, unit: WeightUnit) -> Table {
    let waste = &told.waste;
    let groups = [("room", &waste.by_room), ("crop", &waste.by_crop), ("defect", &waste.by_defect)];
    let rows = groups.into_iter().flat_map(|(by, lines)| {
        lines.iter().map(move |line| {
            let name = match by {
                "defect" => words::defect_words(&line.name),
                _ => line.name.clone(),
            };
            vec![
                Cell::text(by),
                Cell::text(name),
                Cell::weight(line.grams, unit),
                Cell::weight(line.of, unit),
            ]
        })
    });
    let symbol = unit.symbol();
    let (lost, of) = (format!("lost {symbol}"), format!("of {symbol}"));
    Table { header: header(["by", "what", &lost, &of]), rows: rows.collect() }
}

/// Guesses against the scale.
pub(super) fn guesses(told: &Season, unit: WeightUnit) -> Table {
    let rows = told.guesses.iter().flat_map(|pick| {
        pick.ranked.iter().map(move |guess| {
            vec![
                Cell::text(pick.name.clone()),
                Cell::text(guess.name.clone()),
                Cell::weight(guess.grams, unit),
                Cell::weight(pick.total, unit),
                Cell::weight(guess.off, unit),
            ]
        })
    });
    let symbol = unit.symbol();
    let [guess, scale, off] = ["guess", "scale", "off by"].map(|name| format!("{name} {symbol}"));
    Table { header: header(["pick", "who", &guess, &scale, &off]), rows: rows.collect() }
}

/// Defects by watering and by place, with their ranges.
pub(super) fn defects(told: &Season, unit: WeightUnit) -> Table {
    let share = |share: f64| Cell::Number(format!("{share:.4}"));
    let rows = told.defects.iter().flat_map(|table| {
        table.groups.iter().map(move |group| {
            vec![
                Cell::text(table.crop_name.clone()),
                Cell::text(words::defect_words(&table.defect)),
                Cell::text(table.by),
                Cell::text(group.share.label.clone()),
                Cell::weight(group.hurt, unit),
                Cell::weight(group.all, unit),
                share(group.share.share),
                share(group.share.from),
                share(group.share.to),
                Cell::text(table.words.clone()),
            ]
        })
    });
    let symbol = unit.symbol();
    let (hurt, all) = (format!("hurt {symbol}"), format!("all {symbol}"));
    Table {
        header: header([
            "crop", "defect", "by", "group", &hurt, &all, "share", "from", "to", "finding",
        ]),
        rows: rows.collect(),
    }
}

/// A table on the screen: words left, figures right.
pub(super) fn view(table: &Table, what: &'static str) -> impl IntoView + use<> {
    let is_figure = |column: usize| {
        table.rows.iter().all(|row| matches!(row.get(column), Some(Cell::Number(_))))
    };
    let figures: Vec<bool> = (0..table.header.len()).map(is_figure).collect();
    let class = |column: usize| if figures[column] { "n" } else { "" };
    let head = table.header.iter().enumerate().map(|(column, name)| {
        view! {
            <th class=class(column)>{name.clone()}</th>
        }
    });
    let rows = table.rows.iter().map(|row| {
        let cells = row.iter().enumerate().map(|(column, cell)| {
            let text = match cell {
                Cell::Number(digits) if digits.is_empty() => "\u{2013}".to_owned(),
                Cell::Number(digits) => digits.replace('-', "\u{2212}"),
                Cell::Text(words) => words.clone(),
            };
            if column == 0 {
                view! { <th scope="row">{text}</th> }.into_any()
            } else {
                view! { <td class=class(column)>{text}</td> }.into_any()
            }
        });
        view! { <tr>{cells.collect_view()}</tr> }
    });
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=what>
            <table class="table">
                <thead>
                    <tr>{head.collect_view()}</tr>
                </thead>
                <tbody>{rows.collect_view()}</tbody>
            </table>
        </div>
    }
}
