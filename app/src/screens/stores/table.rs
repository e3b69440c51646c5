//! The stores as a list that leaves the program.

use shared_types::outlook::StoresBook;
use shared_types::units::WeightUnit;

use crate::csv::{Cell, Table};

pub(super) fn table(told: &StoresBook, unit: WeightUnit) -> Table {
    let rows = told.lots.iter().map(|row| {
        let keep = &row.ranked.keep_by;
        let chilled = keep.chill.map_or_else(String::new, |chill| format!("{:.1}", chill.days));
        vec![
            Cell::text(row.name.clone()),
            Cell::text(row.place_name.clone()),
            Cell::text(row.room_name.clone().unwrap_or_default()),
            Cell::weight(row.left, unit),
            Cell::Number(row.fruits.map(|fruits| fruits.to_string()).unwrap_or_default()),
            Cell::text(row.cure.state),
            Cell::text(keep.from.to_string()),
            Cell::text(keep.to.to_string()),
            Cell::Number(chilled),
            Cell::text(row.look_by.to_string()),
            Cell::text(row.ranked.reason.clone()),
        ]
    });
    let left = format!("left {}", unit.symbol());
    let header = [
        "what",
        "place",
        "room",
        &left,
        "fruits",
        "curing",
        "keep by",
        "may keep until",
        "chilled days",
        "look by",
        "why",
    ];
    Table { header: header.map(str::to_owned).to_vec(), rows: rows.collect() }
}
