//! The steps of a card with their clock times.

use serde::{Deserialize, Serialize};

use super::super::canning::canning;
use super::super::{
    Canner, Kind, LoadMinutes, Method, MethodStep, Offer, Said, after_every_jar, at_filling,
};

/// Minutes of a day.
const DAY: i32 = 24 * 60;
/// Nobody is asked to begin work between these minutes after midnight: 22:00 and 6:00.
const NIGHT: (i32, i32) = (22 * 60, 6 * 60);

/// What a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Work at the table or the pot.
    Work,
    /// It stands, in salt or the like.
    Rest,
    /// Empty jars boil, to be sterile.
    SterileJars,
    /// One canner load, from loading to lifting out.
    Load,
    /// Jars cool, undisturbed.
    Cool,
    /// Seals are tested.
    CheckSeals,
}

/// One step with its times: minutes after the midnight that begins the day of the batch. Below
/// nothing is the day before; from 1440 on, the day after.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CardStep {
    /// What it is.
    pub kind: StepKind,
    /// What to do.
    pub text: String,
    /// When it begins.
    pub begins: i32,
    /// When it ends.
    pub ends: i32,
    /// Minutes of hands-on work in it: common practice, set your own.
    pub hands_on_minutes: u32,
    /// Minutes in which somebody stays near.
    pub attended_minutes: u32,
    /// Minutes it goes on by itself.
    pub unattended_minutes: u32,
    /// It is done the evening before.
    pub evening_before: bool,
    /// What to mind at this step.
    pub cautions: Vec<Said>,
}

/// When a batch is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum When {
    /// The first step begins then, minutes after midnight.
    StartAt(i32),
    /// The work of the day itself begins then; what must be done the evening before comes before.
    DayBegins(i32),
    /// The last jar is out of the canner, or the last step done, by then.
    DoneBy(i32),
}

/// Steps in their times.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Timed {
    pub(super) steps: Vec<CardStep>,
    /// When the last jar is out, or the last step done.
    pub(super) done: i32,
}

/// The steps of a batch of `kg`, with `loads` canner loads, one after the other: nobody is asked to
/// do two things at once. Where a time is a range the longer one counts, so that "done by" holds.
pub(super) fn timed(
    method: &Method,
    kg: f64,
    jarred: Option<(&Offer, LoadMinutes, u32)>,
    when: When,
) -> Timed {
    let mut steps: Vec<CardStep> = Vec::new();
    let last = method.steps.len().saturating_sub(1);
    for (i, step) in method.steps.iter().enumerate() {
        if i == last
            && let Some((offer, ..)) = jarred
        {
            steps.extend(sterile(offer));
        }
        let mut work = work(step, kg);
        if i == last && method.kind == Kind::Jar {
            work.cautions.extend(at_filling().iter().cloned());
        }
        steps.push(work);
        if step.rests {
            steps.push(rest(method, step.evening_before));
        }
    }
    if let Some((offer, minutes, loads)) = jarred {
        steps.extend((1..=loads).map(|n| load(offer, minutes, n, loads)));
    }
    let done = lay_out(&mut steps, when);
    if jarred.is_some() {
        steps.extend(cooling(done));
    }
    Timed { steps, done }
}

/// The steps of a batch up to the last jar out of the canner, in minutes from the begin of the
/// day's work: what is done the evening before lies below nothing.
pub fn work_steps(
    method: &Method,
    kg: f64,
    jarred: Option<(&Offer, LoadMinutes, u32)>,
) -> Vec<CardStep> {
    let Timed { mut steps, .. } = timed(method, kg, jarred, When::DayBegins(0));
    steps.retain(|step| !matches!(step.kind, StepKind::Cool | StepKind::CheckSeals));
    steps
}

/// Whole minutes, rounded up: a card must not promise more than an hour holds.
fn whole(minutes: f64) -> u32 {
    libm::ceil(minutes.max(0.0) - 1e-9) as u32
}

fn signed(minutes: u32) -> i32 {
    i32::try_from(minutes).unwrap_or(i32::MAX)
}

fn work(step: &MethodStep, kg: f64) -> CardStep {
    CardStep {
        kind: StepKind::Work,
        text: step.text.clone(),
        begins: 0,
        ends: 0,
        hands_on_minutes: whole(step.setup_minutes + step.minutes_per_kg * kg),
        attended_minutes: whole(step.attended_minutes),
        unattended_minutes: whole(step.unattended_minutes),
        evening_before: step.evening_before,
        cautions: step.cautions.clone(),
    }
}

fn alone(kind: StepKind, text: String, minutes: u32) -> CardStep {
    CardStep {
        kind,
        text,
        begins: 0,
        ends: 0,
        hands_on_minutes: 0,
        attended_minutes: 0,
        unattended_minutes: minutes,
        evening_before: false,
        cautions: Vec::new(),
    }
}

fn rest(method: &Method, evening_before: bool) -> CardStep {
    let least = method.rest_hours.as_ref().map_or(0.0, |hours| hours.value);
    let text = match &method.rest_most_hours {
        Some(most) => format!("It stands {least} to {} hours.", most.value),
        None => format!("It stands {least} hours."),
    };
    CardStep { evening_before, ..alone(StepKind::Rest, text, whole(least * 60.0)) }
}

fn sterile(offer: &Offer) -> Option<CardStep> {
    let minutes = offer.sterile_jar_minutes?;
    let text = format!(
        "Boil the empty jars {minutes} minutes: the process is too short to make them sterile. Keep them hot."
    );
    Some(alone(StepKind::SterileJars, text, minutes))
}

fn load(offer: &Offer, minutes: LoadMinutes, n: u32, of: u32) -> CardStep {
    let which = if of > 1 { format!("Load {n} of {of}: ") } else { String::new() };
    let process = offer.minutes;
    let [least, most] = minutes.total;
    let what = match offer.canner {
        Canner::BoilingWater => {
            format!("process {process} minutes from a full boil ({})", offer.band_text)
        }
        Canner::Steam => {
            format!("process {process} minutes from pure steam ({})", offer.band_text)
        }
        Canner::Dial | Canner::Weighted => {
            let psi = offer.psi.map_or(String::new(), |psi| format!(" at {psi} psi"));
            format!(
                "vent {} minutes, then process {process} minutes{psi} ({})",
                minutes.vent, offer.band_text
            )
        }
    };
    let text = format!("{which}{what}. With heating up and coming down {least} to {most} minutes.");
    let mut text_letters = text.chars();
    let text = text_letters
        .next()
        .map(|first| first.to_uppercase().chain(text_letters).collect())
        .unwrap_or_default();
    CardStep {
        kind: StepKind::Load,
        text,
        begins: 0,
        ends: 0,
        hands_on_minutes: 0,
        attended_minutes: most,
        unattended_minutes: 0,
        evening_before: false,
        cautions: offer.cautions.clone(),
    }
}

/// Cooling and the test of the seals: after the least hours, to be done by the most.
fn cooling(done: i32) -> [CardStep; 2] {
    let c = canning();
    let [least, most] = c.cool_hours.value.map(|hours| hours * 60);
    let again = c.reprocess_within_hours.value;
    let mut cool = alone(
        StepKind::Cool,
        format!("Jars cool {} to {} hours, undisturbed and apart.", least / 60, most / 60),
        least,
    );
    cool.begins = done;
    cool.ends = done + signed(least);
    cool.cautions.extend(after_every_jar().first().cloned());
    let mut check = alone(
        StepKind::CheckSeals,
        format!(
            "Test every seal, take the bands off, label. One that failed: a new lid and the whole time again within {again} hours, or the refrigerator or freezer."
        ),
        0,
    );
    check.begins = done + signed(least);
    check.ends = done + signed(most);
    check.cautions.extend(after_every_jar().iter().skip(1).cloned());
    [cool, check]
}

/// Gives the steps their times; returns when the last one is done.
fn lay_out(steps: &mut [CardStep], when: When) -> i32 {
    let mut at = 0;
    for step in steps.iter_mut() {
        step.begins = at;
        at += signed(step.hands_on_minutes + step.attended_minutes + step.unattended_minutes);
        step.ends = at;
    }
    let day = steps.iter().position(|step| !step.evening_before);
    let day = day.and_then(|i| steps.get(i)).map_or(0, |step| step.begins);
    let shift = match when {
        When::StartAt(minute) => minute,
        When::DayBegins(minute) => minute - day,
        When::DoneBy(minute) => minute - at,
    };
    for step in steps.iter_mut() {
        step.begins += shift;
        step.ends += shift;
    }
    at + shift
}

impl CardStep {
    /// Somebody would have to begin it between ten at night and six in the morning.
    pub fn at_night(&self) -> bool {
        let minute = self.begins.rem_euclid(DAY);
        let works = self.hands_on_minutes + self.attended_minutes > 0;
        works && (minute >= NIGHT.0 || minute < NIGHT.1)
    }

    /// Days after the batch's day on which it begins (-1 is the day before), and the minute of that
    /// day.
    pub fn day_and_minute(&self) -> (i32, i32) {
        (self.begins.div_euclid(DAY), self.begins.rem_euclid(DAY))
    }
}
