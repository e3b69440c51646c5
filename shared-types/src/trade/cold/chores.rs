//! What to do before, during and after the night, with clock times.
//!
//! A chore's key is made of the day, the kind and the thing: the same on every phone, so that
//! ticking it off on one ticks it off on all. Times are common practice: close and cover while the
//! day's warmth is still in, carry in before dark, heat before the threshold is reached, look twice
//! in the morning.

use serde::{Deserialize, Serialize};

use super::adjust::{cover, cover_cautions};
use super::evening::Tonight;
use super::heater::heater_cautions;
use super::risk::{Level, Risk, Stands};
use crate::trade::provenance::{Mark, Said};
use crate::units::{HOUR_MS, MINUTE_MS, Millis};

/// What a chore is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChoreKind {
    /// Close tunnel doors and vents.
    Close,
    /// Pick what cannot be saved where it grows.
    Pick,
    /// Carry in what is picked.
    CarryIn,
    /// Put covers over.
    Cover,
    /// Start heat.
    Heat,
    /// Note the night's low.
    NoteLow,
    /// Look while it is frozen.
    LookFrozen,
    /// Open again, and take covers off.
    Open,
    /// Look again once it is thawed.
    LookThawed,
}

impl ChoreKind {
    /// The word in a key.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Close => "close",
            Self::Pick => "pick",
            Self::CarryIn => "carry-in",
            Self::Cover => "cover",
            Self::Heat => "heat",
            Self::NoteLow => "note-low",
            Self::LookFrozen => "look-frozen",
            Self::Open => "open",
            Self::LookThawed => "look-thawed",
        }
    }
}

/// One chore.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Chore {
    /// `cold/2026-10-09/cover/bed-3`: the same on every device.
    pub key: String,
    /// What it is.
    pub kind: ChoreKind,
    /// What to do.
    pub text: String,
    /// When, UTC; none where there is no sunset to go by.
    pub at: Option<Millis>,
    /// How long before to ring, minutes.
    pub alarm_minutes: u32,
    /// Why.
    pub why: String,
    /// What can go wrong, at the point of use.
    pub cautions: Vec<Said>,
}

/// A tunnel or frame that can be closed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Closable {
    /// Its key.
    pub id: String,
    /// Its name.
    pub label: String,
    /// A heater stands ready in it.
    #[serde(default)]
    pub heater: bool,
}

/// How long before sunset tunnels are closed and covers put on; minutes.
const CLOSE_BEFORE: i64 = 60;
const COVER_BEFORE: i64 = 30;
const PICK_BEFORE: i64 = 180;
const CARRY_BEFORE: i64 = 60;
/// How long before the threshold heat is started, minutes.
const HEAT_BEFORE: i64 = 60;
/// After sunrise: when a tunnel has usually warmed, and when frost has usually thawed; minutes.
const OPEN_AFTER: i64 = 90;
const THAWED_AFTER: i64 = 180;

/// The chores that come of tonight's risks, in order of time.
pub fn chores(tonight: &Tonight, risks: &[Risk], closables: &[Closable]) -> Vec<Chore> {
    let night = tonight.night;
    let sunset = |minutes: i64| night.map(|n| n.sunset.plus(-minutes * MINUTE_MS));
    let sunrise = |minutes: i64| night.map(|n| n.sunrise.plus(minutes * MINUTE_MS));
    let mut all = Vec::new();
    let mut add = |kind: ChoreKind, of: &str, text: String, at, why: String, cautions| {
        let key = format!("cold/{}/{}/{of}", tonight.day, kind.word());
        all.push(Chore { key, kind, text, at, alarm_minutes: 15, why, cautions });
    };

    let harmed: Vec<&Risk> = risks.iter().filter(|risk| risk.level != Level::Safe).collect();
    let chilled: Vec<&Risk> = risks
        .iter()
        .filter(|risk| risk.level == Level::Safe && risk.chills && !grows(risk))
        .collect();
    let cold = !harmed.is_empty() || tonight.category_at_worst.is_some();

    if cold {
        for tunnel in closables {
            let why = format!("{:.1} °C is possible tonight", tonight.best.from);
            let text = format!("Close {}: doors, sides and vents", tunnel.label);
            add(ChoreKind::Close, &tunnel.id, text, sunset(CLOSE_BEFORE), why, Vec::new());
        }
    }
    for risk in &harmed {
        let (id, label, why) = (&risk.thing.id, &risk.thing.label, risk.why.clone());
        let lasting = stays_out(risk);
        if !risk.thing.at_hand.is_empty() {
            let names: Vec<&str> = risk
                .thing
                .at_hand
                .iter()
                .map(|id| cover(id).map_or(id.as_str(), |cover| cover.name.as_str()))
                .collect();
            let text = format!("Cover {label}: {}", names.join("; ").to_lowercase());
            let cautions = cover_cautions().to_vec();
            add(ChoreKind::Cover, id, text, sunset(COVER_BEFORE), why.clone(), cautions);
        }
        let still = risk.level_covered != Level::Safe;
        if grows(risk) && still && !lasting {
            let at = sunset(PICK_BEFORE);
            add(ChoreKind::Pick, id, format!("Pick what is ready of {label}"), at, why, Vec::new());
        } else if !grows(risk) && (still || risk.thing.at_hand.is_empty()) {
            let at = earlier(sunset(CARRY_BEFORE), risk.crossing.and_then(|c| c.at));
            add(ChoreKind::CarryIn, id, format!("Carry in {label}"), at, why, Vec::new());
        }
    }
    for risk in &chilled {
        let text = format!("Carry in {}, or put it in the warm", risk.thing.label);
        let why = format!("{:.1} °C chills it, and chilling adds up", risk.here.low);
        let at = sunset(CARRY_BEFORE);
        add(ChoreKind::CarryIn, &risk.thing.id, text, at, why, Vec::new());
    }
    for tunnel in closables.iter().filter(|tunnel| tunnel.heater && !harmed.is_empty()) {
        let first = harmed.iter().filter_map(|risk| risk.crossing?.at).min();
        let at = first.map(|at| at.plus(-HEAT_BEFORE * MINUTE_MS)).or_else(|| sunset(0));
        let why = "before the first threshold is reached at the cold end of the range".to_owned();
        let cautions = heater_cautions().to_vec();
        add(
            ChoreKind::Heat,
            &tunnel.id,
            format!("Start the heat in {}", tunnel.label),
            at,
            why,
            cautions,
        );
    }
    if cold {
        let note = "Read the lowest of the night and write it down";
        let why = "each logged night makes the next forecast better".to_owned();
        add(ChoreKind::NoteLow, "all", note.to_owned(), sunrise(0), why, Vec::new());
        for tunnel in closables {
            let text = format!("Open {} once it is above freezing inside", tunnel.label);
            let why = "the sun heats a closed tunnel fast".to_owned();
            add(ChoreKind::Open, &tunnel.id, text, sunrise(OPEN_AFTER), why, Vec::new());
        }
        for risk in harmed.iter().filter(|risk| !risk.thing.at_hand.is_empty()) {
            let text = format!("Take the covers off {} once it has thawed", risk.thing.label);
            let why = "covered leaves lack light, and stay wet".to_owned();
            add(ChoreKind::Open, &risk.thing.id, text, sunrise(OPEN_AFTER), why, Vec::new());
        }
    }
    if harmed.iter().any(|risk| grows(risk)) {
        let practice = vec![Said {
            text:
                "While frozen, leaves and fruit look sound; thawed, leaves go limp and hurt spots \
                   go glassy."
                    .to_owned(),
            source: "common-practice".to_owned(),
            mark: Mark::Practice,
        }];
        let first = "First look, while it is frozen: where is ice?";
        let why = "it shows how far the cold came; it settles nothing".to_owned();
        add(ChoreKind::LookFrozen, "all", first.to_owned(), sunrise(0), why, Vec::new());
        let second = "Second look, after thaw: vines and fruit, place by place";
        let why = "only after thaw can the harm be told".to_owned();
        add(ChoreKind::LookThawed, "all", second.to_owned(), sunrise(THAWED_AFTER), why, practice);
    }
    all.sort_by_key(|chore| (chore.at, chore.kind));
    all
}

/// May it wait where it grows, and for tonight too?
fn stays_out(risk: &Risk) -> bool {
    risk.waits.as_ref().is_some_and(|waits| {
        let colder = |limit: f64| risk.here_covered.from <= limit;
        waits.way.waits() && !waits.no_colder_celsius.is_some_and(colder)
    })
}

fn grows(risk: &Risk) -> bool {
    matches!(risk.thing.stands, Stands::Growing { .. })
}

/// The earlier of sunset's time and an hour before the threshold.
fn earlier(by: Option<Millis>, crossing: Option<Millis>) -> Option<Millis> {
    let crossing = crossing.map(|at| at.plus(-HOUR_MS));
    by.into_iter().chain(crossing).min()
}
