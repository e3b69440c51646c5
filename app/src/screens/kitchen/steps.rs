//! Today and tomorrow as a list: what to do when, each with its tick.

use leptos::prelude::*;
use shared_types::book::Book;
use shared_types::entry::TickSet;
use shared_types::ids::BatchId;
use shared_types::outlook::Today;
use shared_types::outlook::kitchen::{Task, TaskKind, tasks};
use shared_types::units::{Day, Millis};

use super::clock::{span, time};
use crate::farm::{Farm, use_farm};
use crate::parts::{Problem, Show};

/// The tasks of one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayTasks {
    /// `today`, `tomorrow`, `still to do`.
    pub title: String,
    /// The tasks, by time.
    pub tasks: Vec<Task>,
}

/// What was not done on the days before, today, and tomorrow; empty days left out.
pub fn day_tasks(book: &Book, today: Today, now: Millis) -> Vec<DayTasks> {
    let all = tasks(book, today, now);
    let of = |title: &str, wanted: &dyn Fn(&Task) -> bool| DayTasks {
        title: title.to_owned(),
        tasks: all
            .iter()
            .filter(|task| wanted(task))
            .map(|task| Task { done: false, ..task.clone() })
            .collect(),
    };
    let on = |day: Day| move |task: &Task| task.day == day;
    // Rows ask by themselves whether they are done, so that a tick does not make the list anew and
    // take the focus with it.
    let mut days = vec![
        of("Still to do", &|task| task.day < today.day && !task.done),
        of("Today", &on(today.day)),
        of("Tomorrow", &on(today.day.plus(1))),
    ];
    days.retain(|day| !day.tasks.is_empty());
    days
}

/// The lists.
#[component]
pub fn Steps(
    /// What is to be done.
    days: Memo<Vec<DayTasks>>,
    /// A batch was pressed.
    on_batch: Callback<BatchId>,
    /// The seals of a batch are to be looked at.
    on_seals: Callback<BatchId>,
) -> impl IntoView {
    let failed = RwSignal::new(None::<String>);
    let day = move |DayTasks { title, tasks }: DayTasks| {
        let rows = tasks
            .into_iter()
            .map(|task| view! { <TaskRow task failed on_batch on_seals /> })
            .collect_view();
        view! {
            <section class="section">
                <header>
                    <h2>{title}</h2>
                </header>
                <ol class="plan">{rows}</ol>
            </section>
        }
    };
    view! {
        <Show
            when=move || !days.with(Vec::is_empty)
            fallback=|| {
                view! {
                    <p class="empty">
                        "Nothing to do today or tomorrow. Press a batch of the fortnight to see its card."
                    </p>
                }
            }
        >
            {move || days.get().into_iter().map(day).collect_view()}
        </Show>
        <Problem text=failed />
    }
}

#[component]
fn TaskRow(
    task: Task,
    failed: RwSignal<Option<String>>,
    on_batch: Callback<BatchId>,
    on_seals: Callback<BatchId>,
) -> impl IntoView {
    let farm = use_farm();
    let Task { key, kind, text, detail, minute, minutes, batch, .. } = task;
    let own = key.clone();
    let done = Memo::new(move |_| farm.book.with(|book| book.kitchen.is_done(&own)));
    let sub = if minutes > 0 && kind == TaskKind::Step {
        format!("{detail} \u{b7} {}", span(minutes))
    } else {
        detail
    };
    let sub = match (kind, batch) {
        (TaskKind::Step, Some(batch)) => view! {
            <button class="link sub" on:click=move |_| on_batch.run(batch)>
                {sub}
            </button>
        }
        .into_any(),
        _ => view! { <p class="sub">{sub}</p> }.into_any(),
    };
    let end = match (kind, batch) {
        (TaskKind::Seals | TaskKind::Unsealed, Some(batch)) => view! {
            <button class="button" on:click=move |_| on_seals.run(batch)>
                "Look"
                <span class="visually-hidden">{format!(" at: {text}")}</span>
            </button>
        }
        .into_any(),
        _ => tick(farm, key, &text, done, failed),
    };
    let alarm = matches!(kind, TaskKind::Seals | TaskKind::Unsealed);
    view! {
        <li class="plan-step" class:done-with=move || done.get() class:due=alarm>
            <time>{time(minute)}</time>
            <div>
                <p class="text">{text}</p>
                {sub}
            </div>
            {end}
        </li>
    }
}

/// A box to tick, for every phone.
pub fn tick(
    farm: Farm,
    task: String,
    text: &str,
    done: impl Into<Signal<bool>>,
    failed: RwSignal<Option<String>>,
) -> AnyView {
    let label = format!("done: {text}");
    let done: Signal<bool> = done.into();
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || done.get()
                on:change:target=move |event| {
                    let done = event.target().checked();
                    let set = TickSet { task: task.clone(), done, person: farm.person() };
                    farm.keep_then(set, move |kept| match kept {
                        Ok(_) => failed.set(None),
                        Err(words) => farm.tell(format!("The tick was not kept. {words}")),
                    });
                }
            />
            <span class="visually-hidden">{label}</span>
        </label>
    }
    .into_any()
}
