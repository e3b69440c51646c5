//! Labels for jars and packs, to be printed and stuck on.

use leptos::prelude::*;
use qrcode::{Color, EcLevel, QrCode};
use shared_types::ids::BatchId;
use shared_types::outlook::pantry::Shelf;

use super::pantry::origin_words;
use crate::farm::use_farm;
use crate::parts::Field;
use crate::shell::js;
use crate::typed;
use crate::words;

/// Most labels on one sheet.
const MOST: i64 = 60;

/// What a label's code opens: the batch in the pantry.
pub fn link(origin: &str, batch: BatchId) -> String {
    format!("{origin}/kitchen?batch={batch}")
}

/// A QR code as one SVG path of unit squares, and its width with the four quiet modules the
/// standard asks for at each side (ISO/IEC 18004).
pub fn qr(text: &str) -> Option<(usize, String)> {
    const QUIET: usize = 4;
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let width = code.width();
    let mut path = String::new();
    for (at, color) in code.to_colors().into_iter().enumerate() {
        if color == Color::Dark {
            let (x, y) = (at % width + QUIET, at / width + QUIET);
            path.push_str(&format!("M{x} {y}h1v1h-1z"));
        }
    }
    Some((width + 2 * QUIET, path))
}

/// The sheet: as many labels as there are jars, or as asked for.
#[allow(clippy::needless_pass_by_value, reason = "a component owns its properties")]
#[component]
pub fn Labels(shelf: Shelf, on_close: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let unit = untrack(|| farm.unit());
    let count = RwSignal::new(shelf.left().clamp(1, MOST).to_string());
    let origin = js::window().location().origin().unwrap_or_default();
    let code = qr(&link(&origin, shelf.batch));
    let lines = label_lines(&shelf, &origin_words(&shelf, unit));
    let caution = shelf.caution.as_ref().map(|_| "NOT FOR THE SHELF: fruit unfit for jars");
    let name = shelf.name.clone();
    let many = move || typed::whole(&count.get()).ok().flatten().unwrap_or(1).clamp(1, MOST);
    let label = move || {
        let code = code.clone().map(|(width, path)| {
            view! {
                <svg class="qr" viewBox=format!("0 0 {width} {width}") aria-hidden="true">
                    <path d=path />
                </svg>
            }
        });
        let lines = lines.clone().into_iter().map(|line| view! { <p>{line}</p> }).collect_view();
        view! {
            <div class="tag">
                {code}
                <div>
                    <b>{name.clone()}</b>
                    {caution.map(|words| view! { <p><strong>{words}</strong></p> })}
                    {lines}
                </div>
            </div>
        }
    };
    view! {
        <div class="no-print">
            <Field label="How many labels" value=count inputmode="numeric" />
            <div class="buttons">
                <button
                    class="button primary"
                    on:click=move |_| {
                        let printed = js::window().print();
                        if printed.is_err() {
                            farm.tell("This browser does not print. Open the page on a computer.".to_owned());
                        }
                    }
                >
                    "Print"
                </button>
                <button class="button quiet" on:click=move |_| on_close.run(())>
                    "Close"
                </button>
            </div>
        </div>
        <div class="tag-sheet labels">
            {move || (0..many()).map(|_| label()).collect_view()}
        </div>
    }
}

/// The lines of a label under its name.
fn label_lines(shelf: &Shelf, origins: &str) -> Vec<String> {
    let mut lines = vec![format!("made {}", words::day_and_year(shelf.made))];
    if !origins.is_empty() {
        lines.push(format!("from {origins}"));
    }
    lines.extend(shelf.best_by.map(|day| format!("best by {}", words::day_and_year(day))));
    lines.extend(shelf.note.clone());
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use shared_types::units::Millis;

    #[test]
    fn a_code_has_its_quiet_zone_and_finder_patterns() {
        let batch = BatchId::new(Millis(0), [1; 10]);
        let (width, path) = qr(&link("https://kestrel.example:7117", batch)).expect("short");
        assert!((21 + 8..=60).contains(&width), "{width}");
        // The top left finder pattern begins right after the quiet zone, and is seven wide.
        assert!(path.starts_with("M4 4h1v1h-1zM5 4"), "{}", &path[..30]);
        assert!(!path.contains("M11 4h"), "light beside the pattern");
    }
}
