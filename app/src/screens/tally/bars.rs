//! The totals as bars one can read at arm's length.

use leptos::prelude::*;
use shared_types::ids::ClassId;

use super::table::{Line, Table, crop_with};
use crate::farm::use_farm;
use crate::parts::{class_mark, class_tone};
use crate::words;

/// One bar for each line; split twice, a bar is cut into its columns and they are told in words.
#[component]
pub fn Bars(table: Memo<Table>) -> impl IntoView {
    let farm = use_farm();
    let bars = move || {
        let unit = farm.unit();
        table.with(|table| {
            table
                .lines
                .iter()
                .map(|line| {
                    let sub = parts(table, line, unit);
                    view! {
                        <li class=format!("bar {}", tone(line.class.as_ref()))>
                            <span class="name">
                                {line.class.as_ref().and_then(mark)} {line.label.clone()}
                            </span>
                            <span class="n">{words::weight(line.total, unit)}</span>
                            <div class="track" aria-hidden="true">
                                {fills(table, line)}
                            </div>
                            <p class="sub">{sub}</p>
                        </li>
                    }
                })
                .collect_view()
        })
    };
    view! { <ul class="bars">{bars}</ul> }
}

fn fills(table: &Table, line: &Line) -> Vec<AnyView> {
    let fill = |class: Option<&ClassId>, part| {
        let width = format!("{:.2}%", table.bar(part));
        let tone = format!("fill {}", tone(class));
        view! { <div class=tone style:width=width></div> }.into_any()
    };
    if table.columns.is_empty() {
        return vec![fill(None, line.total)];
    }
    let cut = table.columns.iter().zip(&line.cells).filter(|(_, cell)| cell.0 > 0);
    cut.map(|(column, cell)| fill(column.class.as_ref(), *cell)).collect()
}

/// What stands under a bar: its bins and share, and what it is made of.
fn parts(table: &Table, line: &Line, unit: shared_types::units::WeightUnit) -> String {
    let mut parts =
        vec![words::count(line.bins, "bin"), format!("{:.0} %", table.share(line.total))];
    let cut = table.columns.iter().zip(&line.cells).filter(|(_, cell)| cell.0 > 0);
    parts.extend(cut.map(|(column, cell)| {
        format!("{} {}", column.label.to_lowercase(), words::number(*cell, unit))
    }));
    parts.join(" · ")
}

fn tone(class: Option<&ClassId>) -> &'static str {
    class
        .and_then(|class| crop_with(class).map(|crop| class_tone(&crop, class)))
        .unwrap_or_default()
}

fn mark(class: &ClassId) -> Option<AnyView> {
    crop_with(class).map(|crop| class_mark(&crop, class).into_any())
}
