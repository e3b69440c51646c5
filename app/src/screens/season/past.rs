//! Earlier seasons from a spreadsheet: first what would come in and what is wrong line by line, and
//! only then the records.

use leptos::prelude::*;
use shared_types::entry::SeasonStruck;
use shared_types::ids::RecordId;
use shared_types::past::{self, Past, PastLine};
use wasm_bindgen::JsCast as _;

use crate::farm::use_farm;
use crate::order;
use crate::parts::{Problem, Row, Show};
use crate::words;

#[component]
pub(super) fn PastForm() -> impl IntoView {
    let farm = use_farm();
    let text = RwSignal::new(String::new());
    let problem = RwSignal::new(None::<String>);
    let said = RwSignal::new(String::new());
    let busy = RwSignal::new(false);
    let read = Memo::new(move |_| {
        let newest = i64::from(farm.today.get().year());
        text.with(|text| {
            (!text.trim().is_empty()).then(|| {
                farm.book.with(|book| {
                    let there = book.stores.past().collect::<Vec<_>>();
                    past::read(text, book.holding.unit(), newest, &there.iter().copied())
                })
            })
        })
    });
    let pick = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = event_target(&event);
        let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
        wasm_bindgen_futures::spawn_local(async move {
            match wasm_bindgen_futures::JsFuture::from(
                file.unchecked_into::<web_sys::Blob>().text(),
            )
            .await
            {
                Ok(read) => text.set(read.as_string().unwrap_or_default()),
                Err(_) => problem.set(Some(
                    "The file could not be read. Open it, copy all, and paste it below.".to_owned(),
                )),
            }
        });
    };
    let fresh = move || {
        read.with(|read| {
            let lines = read.as_ref().map(|read| read.lines.clone()).unwrap_or_default();
            lines.into_iter().filter(|line| !line.known).collect::<Vec<PastLine>>()
        })
    };
    let bring = move |_| {
        if busy.get_untracked() {
            return;
        }
        let lines = untrack(fresh);
        busy.set(true);
        wasm_bindgen_futures::spawn_local(async move {
            let count = lines.len();
            for line in lines {
                let record = line.record(farm.fresh(RecordId::new));
                if let Err(reason) = farm.keep(record).await {
                    problem.set(Some(format!("Not all kept. {reason} Press again for the rest.")));
                    busy.set(false);
                    return;
                }
            }
            busy.set(false);
            said.set(format!("Kept {}.", words::count(count, "record")));
            text.set(String::new());
        });
    };
    view! {
        <p>
            "One line for each year and variety, with a first line of names: year, crop, kg; and if \
             you have them variety, place, plants, area, first, last, note."
        </p>
        <div class="field">
            <label for="past-file">"A CSV file"</label>
            <input id="past-file" type="file" accept=".csv,.tsv,.txt,text/csv" on:change=pick />
        </div>
        <div class="field">
            <label for="past-text">"Or paste it here"</label>
            <textarea
                id="past-text"
                rows="6"
                prop:value=move || text.get()
                on:input:target=move |event| text.set(event.target().value())
            ></textarea>
        </div>
        <Problem text=problem />
        <p class="sub" role="status">{said}</p>
        {move || read.get().map(|read| dry_run(&read, farm.unit()))}
        <Show when=move || read.with(Option::is_some)>
            <button
                class="button primary"
                aria-disabled=move || (busy.get() || fresh().is_empty()).to_string()
                on:click=bring
            >
                {move || format!("Bring in {}", words::count(fresh().len(), "record"))}
            </button>
        </Show>
        <Records />
    }
}

fn dry_run(read: &Past, unit: shared_types::units::WeightUnit) -> impl IntoView + use<> {
    let problems = read.problems.iter().map(|problem| {
        let line = problem.line;
        let words = words::sentence(&problem.words);
        view! { <li class="row"><div class="body"><p class="title">{format!("Line {line}")}</p><p class="sub">{words}</p></div></li> }
    });
    let lines = read.lines.iter().map(|line| {
        let variety = line.variety.as_ref().map(|name| format!(", {name}")).unwrap_or_default();
        let place = line.place.clone().unwrap_or_default();
        view! {
            <Row
                title=format!("{} {}{variety}", line.year, words::crop_name(&line.crop))
                sub=place
                right=words::weight(line.grams, unit)
                right_sub=if line.known { "is there already" } else { "" }
            />
        }
    });
    let passed = (!read.passed_over.is_empty()).then(|| {
        let columns = read.passed_over.join(", ");
        view! { <p class="sub">{format!("Columns passed over: {columns}.")}</p> }
    });
    let wrong = (!read.problems.is_empty()).then(|| {
        view! {
            <h3>{format!("{} cannot come in", words::count(read.problems.len(), "line"))}</h3>
            <ul class="list">{problems.collect_view()}</ul>
        }
    });
    view! {
        {wrong}
        <h3>{format!("{} can", words::count(read.lines.len(), "line"))}</h3>
        {passed}
        <ul class="list">{lines.collect_view()}</ul>
    }
}

/// What is there already, each to be taken out again.
#[component]
fn Records() -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    let strike = move |record: RecordId| {
        farm.keep_then(SeasonStruck { record, person: farm.person() }, move |kept| {
            problem.set(kept.err().map(|reason| format!("Not kept. {reason}")));
        });
    };
    let rows = move || {
        let unit = farm.unit();
        let all = farm.book.with(|book| book.stores.past().cloned().collect::<Vec<_>>());
        order::by_words_down(all, |record| format!("{:05} {}", record.year, record.crop))
            .into_iter()
            .map(|record| {
                let id = record.record;
                let variety =
                    record.variety.as_ref().map(|name| format!(", {name}")).unwrap_or_default();
                let title = format!("{} {}{variety}", record.year, words::crop_name(&record.crop));
                view! {
                    <Row
                        title=title
                        sub=record.note.clone().unwrap_or_default()
                        right=words::weight(record.grams, unit)
                    >
                        <button class="button quiet" on:click=move |_| strike(id)>
                            "Take out"
                        </button>
                    </Row>
                }
            })
            .collect_view()
    };
    let any = move || farm.book.with(|book| book.stores.past().next().is_some());
    view! {
        <Show when=any>
            <h3>"There already"</h3>
            <Problem text=problem />
            <ul class="list">{rows}</ul>
        </Show>
    }
}
