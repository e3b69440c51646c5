//! Ripening: what will be ripe on which day, of what stands in which room.

mod dates;
mod found;
mod lot;
mod lots;
mod move_to;
mod moving;
mod page;
mod round;
mod take_out;
mod taking;
mod taught;

use leptos::prelude::*;
use shared_types::entry::RoundStruck;
use shared_types::ids::LotId;
use shared_types::outlook::{Outlook, Today, learned, outlook_with};

use crate::farm::use_farm;
use crate::parts::chart::{BandChart, Lanes};
use crate::parts::export::Export;
use crate::parts::{Empty, Screen, Show};
use crate::shell::clock;
use crate::words;
use lot::LotItem;
use page::{DAYS, Page, page};
use round::Kept;
use taught::{Taught, TaughtList, taught};

/// The Ripening screen.
#[component]
pub fn Ripening() -> impl IntoView {
    let farm = use_farm();
    let today = Memo::new(move |_| Today {
        day: farm.today.get(),
        offset_minutes: clock::offset_minutes(farm.now()),
    });
    let known = Memo::new(move |_| farm.book.with(|book| learned(book, today.get())));
    let told = Memo::new(move |_| {
        farm.book.with(|book| known.with(|known| outlook_with(book, known, today.get(), DAYS)))
    });
    let lessons: Memo<Vec<Taught>> = Memo::new(move |_| {
        let day = today.get().day;
        farm.book.with(|book| known.with(|known| taught(book, known, day)))
    });
    let any_lesson = move || lessons.with(|all| !all.is_empty());
    let shown = Memo::new(move |_| {
        farm.book.with(|book| told.with(|told| page(book, told, today.get().offset_minutes)))
    });
    // The forecast holds from the moment it was last made.
    let sub = Signal::derive(move || {
        let now = format!("{}, {}", words::day(farm.today.get()), farm.time(farm.now()));
        match shown.with(|page| page.last_round.clone()) {
            Some(last) => format!("{now} \u{b7} {last}"),
            None => now,
        }
    });
    let any = move || shown.with(|page| !page.lots.is_empty());
    view! {
        <Screen title="Ripening" sub class="flush">
            <Show
                when=any
                fallback=|| {
                    view! {
                        <section class="alone">
                            <Empty text="Nothing stands here yet. Bins kept on Pick show up as lots, with the days on which they will be ripe." />
                        </section>
                    }
                }
            >
                <div class="split">
                    <section aria-label="Ripe by day">
                        <div class="lead">
                            <h2>{move || shown.with(|page| page.headline.clone())}</h2>
                            <p class="sub">{move || shown.with(|page| page.likely.clone())}</p>
                        </div>
                        <Show
                            when=move || shown.with(|page| page.ripens)
                            fallback=|| {
                                view! { <Empty text="None of these lots ripens within two weeks." /> }
                            }
                        >
                            <BandChart
                                points=Signal::derive(move || shown.with(|page| page.points.clone()))
                                title="Ripe each day"
                                words=Signal::derive(move || {
                                    shown.with(|page| page.chart_words.clone())
                                })
                                unit=Signal::derive(move || farm.unit().symbol())
                            />
                            <Lanes
                                lanes=Signal::derive(move || shown.with(|page| page.lanes.clone()))
                                days=DAYS
                            />
                            <DayTable shown />
                        </Show>
                        <Remarks shown />
                        <Show when=any_lesson>
                            <TaughtList all=lessons />
                        </Show>
                    </section>
                    <Lots shown told today />
                </div>
            </Show>
        </Screen>
    }
}

/// The figures behind the chart.
#[component]
fn DayTable(shown: Memo<Page>) -> impl IntoView {
    let farm = use_farm();
    let rows = move || {
        let unit = farm.unit();
        let number = |grams| view! { <td class="n">{words::number(grams, unit)}</td> };
        shown.with(|page| {
            page.days
                .iter()
                .map(|day| {
                    view! {
                        <tr>
                            <th scope="row">{day.day.clone()}</th>
                            {number(day.middle)}
                            <td class="n">
                                {words::number(day.low, unit)} "–" {words::number(day.high, unit)}
                            </td>
                            {number(day.by_then)}
                        </tr>
                    }
                })
                .collect_view()
        })
    };
    view! {
        <details class="more">
            <summary>"The same as a table"</summary>
            <div class="scroll" tabindex="0" role="region" aria-label="Ripe each day, as a table">
                <table class="table">
                    <caption>
                        {move || format!("Turning ripe each day, {}", farm.unit().symbol())}
                    </caption>
                    <thead>
                        <tr>
                            <th scope="col">"day"</th>
                            <th scope="col" class="n">"ripe"</th>
                            <th scope="col" class="n">"likely"</th>
                            <th scope="col" class="n">"by then"</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
            <p class="source">
                "Today counts all that stands ripe. Eight times in ten it lies within the likely range."
            </p>
        </details>
    }
}

/// What to look out for in the rooms: what spoils fruit at once, the rest on request.
#[component]
fn Remarks(shown: Memo<Page>) -> impl IntoView {
    let notes = move |grave: bool| {
        shown.with(|page| {
            let some = page.remarks.iter().filter(|remark| remark.is_grave() == grave);
            some.map(|remark| {
                view! {
                    <div class=if grave { "note warn" } else { "note" }>
                        <p>
                            <strong>{remark.lots.clone()}": "</strong>
                            {remark.text.clone()}
                        </p>
                        <p class="source">{remark.source.clone()}</p>
                    </div>
                }
            })
            .collect_view()
        })
    };
    let lesser =
        move || shown.with(|page| page.remarks.iter().filter(|remark| !remark.is_grave()).count());
    let any = move || lesser() > 0;
    view! {
        {move || notes(true)}
        <Show when=any>
            <details class="more">
                <summary>{move || words::count(lesser(), "remark")} " on these rooms"</summary>
                <div class="notes">{move || notes(false)}</div>
            </details>
        </Show>
    }
}

/// The lots, room by room, and the way from one to the next.
#[component]
fn Lots(shown: Memo<Page>, told: Memo<Outlook>, today: Memo<Today>) -> impl IntoView {
    let farm = use_farm();
    let open = RwSignal::new(None);
    let said = RwSignal::new(String::new());
    let last = RwSignal::new(None::<Kept>);
    // Lots still to be gone through, when somebody goes through all of them.
    let walk = RwSignal::new(Vec::<LotId>::new());
    let kept = Callback::new(move |kept: Kept| {
        said.set(kept.words.clone());
        last.set(Some(kept));
        let next = walk.try_update(Vec::pop).flatten();
        open.set(next);
    });
    let start = move |_| {
        let mut due: Vec<LotId> = shown.with_untracked(|page| {
            page.lots.iter().filter(|lot| lot.ripens).map(|lot| lot.id).collect()
        });
        due.reverse();
        let first = due.pop();
        walk.set(due);
        open.set(first);
    };
    let take_back = move |_| {
        let Some(kept) = last.get_untracked() else { return };
        let fact = RoundStruck { round: kept.round, person: farm.person() };
        farm.keep_then(fact, move |result| match result {
            Ok(_) => {
                last.set(None);
                said.set("Taken back: the round does not count.".to_owned());
            }
            Err(words) => said.set(words),
        });
    };
    let ids = move || shown.with(|page| page.lots.iter().map(|lot| lot.id).collect::<Vec<_>>());
    let any_due = move || farm.may_write() && shown.with(|p| p.lots.iter().any(|lot| lot.ripens));
    let stray = move || {
        let line = |text: &String| view! { <p>{text.clone()}</p> };
        shown.with(|page| page.stray.iter().map(line).collect_view())
    };
    view! {
        <section aria-label="Lots">
            <p class="outcome" role="status">
                {said}
            </p>
            <Show when=move || last.with(Option::is_some)>
                <div class="buttons">
                    <button class="button quiet" on:click=take_back>
                        "Undo the round"
                    </button>
                </div>
            </Show>
            <Show when=move || shown.with(|page| !page.stray.is_empty())>
                <div class="note plain">{stray}</div>
            </Show>
            <ul class="list">
                <For each=ids key=|id| *id let:id>
                    <LotItem id shown told today open said kept />
                </For>
            </ul>
            <Export
                what="the lots"
                name=Signal::derive(move || format!("lots-{}", farm.today.get()))
                make=move || {
                    let unit = untrack(|| farm.unit());
                    told.with_untracked(|told| lots::csv(told, unit))
                }
            />
            <Show when=any_due>
                <div class="foot-bar">
                    <button class="button primary big" on:click=start>
                        "Start a round"
                    </button>
                </div>
            </Show>
        </section>
    }
}
