//! Class marks: how full the circle is says how ripe the fruit is.

use leptos::prelude::*;
use shared_types::ids::{ClassId, CropId};
use shared_types::trade::crops;

/// The class of culls in every crop: crossed out, whatever its fill.
const HURT: &str = "hurt";

/// Radius of a partly filled circle, in the mark's own units of 24.
const RADIUS: f64 = 10.0;
const CENTRE: f64 = 12.0;

/// A circle filled from below to `fill` (0 to 1); dashed and crossed when hurt. The class's word
/// always stands beside it, so it is hidden from screen readers.
#[component]
pub fn Mark(
    /// How full, 0 to 1.
    fill: f64,
    /// Crossed out.
    #[prop(optional)]
    hurt: bool,
    /// The colour's class of the stylesheet.
    #[prop(optional)]
    tone: &'static str,
) -> impl IntoView {
    let inside = if hurt {
        view! {
            <circle cx="12" cy="12" r="10.5" stroke-width="1.5" stroke-dasharray="3 2.5" />
            <path d="M6.5 6.5l11 11m0-11l-11 11" />
        }
        .into_any()
    } else if fill >= 1.0 {
        view! { <circle class="fill" cx="12" cy="12" r="11" /> }.into_any()
    } else if fill <= 0.0 {
        view! { <circle cx="12" cy="12" r="9.5" stroke-width="3" /> }.into_any()
    } else {
        view! {
            <path class="fill" d=segment(fill) />
            <circle cx="12" cy="12" r="9.75" />
        }
        .into_any()
    };
    view! {
        <svg class=format!("mark {tone}") viewBox="0 0 24 24" aria-hidden="true">
            {inside}
        </svg>
    }
}

/// The lower part of a circle, up to a `share` of its height.
fn segment(share: f64) -> String {
    let y = CENTRE + RADIUS - 2.0 * RADIUS * share;
    let half = (RADIUS * RADIUS - (y - CENTRE) * (y - CENTRE)).max(0.0).sqrt();
    let large = u8::from(share > 0.5);
    format!(
        "M{:.2} {y:.2}A{RADIUS} {RADIUS} 0 {large} 0 {:.2} {y:.2}z",
        CENTRE - half,
        CENTRE + half
    )
}

/// The mark of a crop's class; an empty circle for one this program does not know.
pub fn class_mark(crop: &CropId, class: &ClassId) -> impl IntoView + use<> {
    let fill = crops::class(crop, class).map_or(0.0, |class| class.fill);
    view! { <Mark fill hurt=class.as_str() == HURT tone=class_tone(crop, class) /> }
}

/// Which of the four colours of the stylesheet a class takes, by how ready it is.
pub fn class_tone(crop: &CropId, class: &ClassId) -> &'static str {
    match crops::class(crop, class) {
        _ if class.as_str() == HURT => "hurt",
        Some(class) if class.fill >= 1.0 => "ripe",
        Some(class) if class.fill > 0.0 => "colouring",
        _ => "green",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_circle_ends_at_its_middle() {
        assert_eq!(segment(0.5), "M2.00 12.00A10 10 0 0 0 22.00 12.00z");
    }

    #[test]
    fn tones_follow_the_fill_and_the_cull() {
        let tone = |crop: &str, class: &str| class_tone(&crop.into(), &class.into());
        assert_eq!(tone("tomato", "ripe"), "ripe");
        assert_eq!(tone("tomato", "green"), "green");
        assert_eq!(tone("onion", "small"), "colouring");
        assert_eq!(tone("onion", "hurt"), "hurt");
        assert_eq!(tone("no such crop", "x"), "green");
    }
}
