//! One planned batch: why it is made, its card, and what may be done with it.

use leptos::prelude::*;
use shared_types::entry::{BatchSet, Fact};
use shared_types::ids::BatchId;
use shared_types::outlook::kitchen::Work;
use shared_types::units::Day;

use super::card::Card;
use super::clock::{self, time};
use super::form::keep_and_tell;
use super::recipe::{tags, title};
use crate::farm::use_farm;
use crate::parts::select::Select;
use crate::parts::{Show, Toggle};
use crate::words;

/// Days a batch can be moved within.
const MOVES: i32 = 14;

/// Writes nothing of a batch yet, to be filled in.
pub fn nothing(batch: BatchId) -> BatchSet {
    BatchSet {
        batch,
        plan: None,
        method: None,
        day: None,
        start_minute: None,
        jar: None,
        jars: None,
        lots: None,
        why: None,
        pinned: None,
        dropped: None,
        begun: None,
    }
}

/// The batch. `kept` is false while its plan is only looked at.
#[component]
pub fn BatchCard(
    work: Work,
    kept: bool,
    on_close: Callback<()>,
    on_made: Callback<BatchId>,
    /// It was moved, pinned or dropped: the rest may be planned around it.
    on_changed: Callback<()>,
) -> impl IntoView {
    let farm = use_farm();
    let altitude = farm.book.with_untracked(|book| book.holding.altitude.get().copied());
    let unit = untrack(|| farm.unit());
    let today = farm.today.get_untracked();
    let Work { id, day, begins, ends, pinned, begun, short, .. } = work.clone();
    let change = move |set: BatchSet| {
        keep_and_tell(farm, vec![Fact::from(set)]);
        on_changed.run(());
    };
    let tags = tags(&work.batch, unit).into_iter().map(|tag| view! { <span>{tag}</span> });
    let why = work.why.clone();
    let days = (0..MOVES).map(|n| (today.plus(n), words::day_or_today(today.plus(n), today)));
    let days: Vec<(Day, String)> = days.collect();
    let late = day < today;
    view! {
        <article class="recipe chosen">
            <div class="buttons no-print">
                <button class="button quiet" on:click=move |_| on_close.run(())>
                    "Back to the day"
                </button>
            </div>
            <header>
                <p class="sub">{words::day_or_today(day, today)}</p>
                <h2 id=format!("title-{id}") tabindex="-1">
                    {title(&work.batch)}
                </h2>
                <p class="tags">
                    {tags.collect_view()} <span>{format!("{} to {}", time(begins), time(ends))}</span>
                </p>
                <p>{why}</p>
            </header>
            <Show when=move || late>
                <div class="note warn">
                    <p>"This was to be made before today. Make it, move it, or drop it and plan anew."</p>
                </div>
            </Show>
            <Show when=move || short && !begun>
                <div class="note warn">
                    <p>
                        "Its lots no longer hold all it asks for. Plan anew, or make what there is."
                    </p>
                </div>
            </Show>
            <Show when=move || kept>
                <div class="buttons no-print">
                    <button class="button primary" on:click=move |_| on_made.run(id)>
                        "Made it\u{2026}"
                    </button>
                    <button
                        class="button"
                        aria-pressed=pinned.to_string()
                        on:click=move |_| change(BatchSet { pinned: Some(!pinned), ..nothing(id) })
                    >
                        {if pinned { "Unpin" } else { "Pin" }}
                    </button>
                    <button
                        class="button"
                        on:click=move |_| change(BatchSet { dropped: Some(true), ..nothing(id) })
                    >
                        "Drop"
                    </button>
                </div>
            </Show>
            {kept
                .then(|| {
                    let days = days.clone();
                    let options = clock::beginnings();
                    view! {
                        <div class="begin no-print">
                            <Select
                                id="batch-day"
                                label="Day"
                                options=days
                                chosen=day.max(today)
                                on_choose=move |day| {
                                    let set = BatchSet {
                                        day: Some(day),
                                        pinned: Some(true),
                                        ..nothing(id)
                                    };
                                    change(set);
                                }
                            />
                            <Select
                                id="batch-begin"
                                label="Begin at"
                                options=options
                                chosen=clock::half_hour(begins)
                                on_choose=move |minute| {
                                    let set = BatchSet {
                                        start_minute: Some(i64::from(minute)),
                                        ..nothing(id)
                                    };
                                    keep_and_tell(farm, vec![Fact::from(set)]);
                                }
                            />
                            <Select
                                id="batch-done"
                                label="Or done by"
                                options=clock::endings(ends - begins)
                                chosen=ends.next_multiple_of(30)
                                on_choose=move |minute: u32| {
                                    let begins = minute.saturating_sub(ends - begins);
                                    let set = BatchSet {
                                        start_minute: Some(i64::from(begins)),
                                        ..nothing(id)
                                    };
                                    keep_and_tell(farm, vec![Fact::from(set)]);
                                }
                            />
                            <Begun id begun />
                        </div>
                    }
                })}
            <div class="work">
                {altitude.map(|altitude| view! { <Card work altitude /> })}
            </div>
        </article>
    }
}

/// Whether work on it has begun: its fruit is taken, and no plan moves it any more.
#[component]
fn Begun(id: BatchId, begun: bool) -> impl IntoView {
    let farm = use_farm();
    let on = RwSignal::new(begun);
    Effect::new(move |before: Option<bool>| {
        let now = on.get();
        if before.is_some_and(|before| before != now) {
            let set = BatchSet { begun: Some(now), ..nothing(id) };
            keep_and_tell(farm, vec![Fact::from(set)]);
        }
        now
    });
    view! { <Toggle label="Begun" on /> }
}
