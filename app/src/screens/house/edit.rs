//! Lists of things and the form behind each: the one shape most of House has.

use leptos::prelude::*;
use shared_types::entry::Fact;
use uuid::Uuid;

use crate::farm::use_farm;
use crate::order;
use crate::parts::{Empty, Problem, Sheet, Show};

/// One line of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::screens) struct Line {
    /// The thing's id, whichever kind of thing it is.
    pub id: Uuid,
    pub title: String,
    pub sub: String,
    /// Lines stand in the order of these words.
    pub order: String,
    /// No longer used: listed last.
    pub retired: bool,
}

/// What is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Editing {
    None,
    New,
    Old(Uuid),
}

/// A list of things; pressing one opens its form in place of the list.
#[component]
pub(super) fn Things(
    /// The lines, in any order.
    #[prop(into)]
    lines: Signal<Vec<Line>>,
    /// What a new one is called: `New place`; empty when none can be made here.
    #[prop(into)]
    new: String,
    /// What stands there when there is none.
    #[prop(into)]
    empty: String,
    /// Makes the form of one thing, or of a new one. It is told how to close.
    form: fn(Option<Uuid>, Callback<()>) -> AnyView,
) -> impl IntoView {
    let editing = RwSignal::new(Editing::None);
    let close = Callback::new(move |()| editing.set(Editing::None));
    let (new, empty) = (StoredValue::new(new), StoredValue::new(empty));
    let title_of = move |id| {
        lines.with_untracked(|lines| {
            let line = lines.iter().find(|line| line.id == id);
            line.map(|line| line.title.clone()).unwrap_or_default()
        })
    };
    move || match editing.get() {
        Editing::None => view! {
            <Show when=move || new.with_value(|new| !new.is_empty())>
                <div class="buttons">
                    <button class="button" on:click=move |_| editing.set(Editing::New)>
                        {new.get_value()}
                    </button>
                </div>
            </Show>
            <Show when=move || lines.with(Vec::is_empty)>
                <Empty text=empty.get_value() />
            </Show>
            <ul class="list">
                {move || {
                    let key = |line: &Line| format!("{}{}", u8::from(line.retired), line.order);
                    order::by_words(lines.get(), key)
                        .into_iter()
                        .map(|line| {
                            let id = line.id;
                            let sub = match (line.retired, line.sub) {
                                (false, sub) => sub,
                                (true, sub) if sub.is_empty() => "not used any more".to_owned(),
                                (true, sub) => format!("{sub} \u{b7} not used any more"),
                            };
                            view! {
                                <li class="row">
                                    <div class="body">
                                        <p class="title">{line.title.clone()}</p>
                                        <p class="sub">{sub}</p>
                                    </div>
                                    <div class="right">
                                        <button
                                            class="button"
                                            on:click=move |_| editing.set(Editing::Old(id))
                                        >
                                            "Change"
                                            <span class="visually-hidden">
                                                {format!(" {}", line.title)}
                                            </span>
                                        </button>
                                    </div>
                                </li>
                            }
                        })
                        .collect_view()
                }}
            </ul>
        }
        .into_any(),
        Editing::New => view! {
            <Sheet title=new.get_value() on_close=move || close.run(())>
                {form(None, close)}
            </Sheet>
        }
        .into_any(),
        Editing::Old(id) => view! {
            <Sheet title=title_of(id) on_close=move || close.run(())>
                {form(Some(id), close)}
            </Sheet>
        }
        .into_any(),
    }
}

/// A form that keeps one fact.
#[component]
pub(in crate::screens) fn Keep(
    /// Makes the fact: `None` when nothing was changed, words when something typed is wrong.
    make: Box<dyn Fn() -> Result<Option<Fact>, String>>,
    /// What the button says.
    #[prop(default = "Keep")]
    button: &'static str,
    /// Called once it is kept, or when nothing was changed.
    done: Callback<()>,
    children: Children,
) -> impl IntoView {
    let farm = use_farm();
    let problem = RwSignal::new(None::<String>);
    let busy = RwSignal::new(false);
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if busy.get_untracked() {
            return;
        }
        problem.set(None);
        match make() {
            Ok(Some(fact)) => {
                busy.set(true);
                farm.keep_then(fact, move |kept| {
                    busy.set(false);
                    match kept {
                        // The form may have been left meanwhile.
                        Ok(_) if !problem.is_disposed() => done.run(()),
                        Ok(_) => {}
                        Err(reason) => {
                            let words = format!("Not kept. {reason}");
                            if let Some(Some(words)) = problem.try_set(Some(words)) {
                                farm.tell(words);
                            }
                        }
                    }
                });
            }
            Ok(None) => done.run(()),
            Err(reason) => problem.set(Some(reason)),
        }
    };
    view! {
        <form class="form" on:submit=submit>
            {children()}
            <Problem text=problem />
            <button class="button primary" type="submit" aria-disabled=move || busy.get().to_string()>
                {button}
            </button>
        </form>
    }
}
