//! Lists of things and the form behind each: the one shape most of House has.

use leptos::prelude::*;
use shared_types::entry::Fact;

use crate::farm::use_farm;
use crate::parts::{Empty, Problem, Row, Sheet};

/// One line of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Line<Id> {
    pub id: Id,
    pub title: String,
    pub sub: String,
    /// No longer used: listed last.
    pub retired: bool,
}

/// What is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Editing<Id> {
    None,
    New,
    Old(Id),
}

/// A list of things; pressing one opens its form in place of the list.
#[component]
pub(super) fn Things<Id, F>(
    /// The lines, in order.
    #[prop(into)]
    lines: Signal<Vec<Line<Id>>>,
    /// What a new one is called: `New place`.
    #[prop(into)]
    new: String,
    /// What stands there when there is none.
    #[prop(into)]
    empty: String,
    /// Makes the form of one thing, or of a new one. It is told how to close.
    form: F,
) -> impl IntoView
where
    Id: Copy + PartialEq + Eq + std::hash::Hash + Send + Sync + 'static,
    F: Fn(Option<Id>, Callback<()>) -> AnyView + Send + Sync + 'static,
{
    let editing = RwSignal::new(Editing::<Id>::None);
    let close = Callback::new(move |()| editing.set(Editing::None));
    let form = StoredValue::new(form);
    let (new, empty) = (StoredValue::new(new), StoredValue::new(empty));
    let title_of = move |id| {
        lines.with_untracked(|lines| {
            let line = lines.iter().find(|line| line.id == id);
            line.map(|line| line.title.clone()).unwrap_or_default()
        })
    };
    move || match editing.get() {
        Editing::None => view! {
            <div class="buttons">
                <button class="button" on:click=move |_| editing.set(Editing::New)>
                    {new.get_value()}
                </button>
            </div>
            <Show when=move || lines.with(Vec::is_empty)>
                <Empty text=empty.get_value() />
            </Show>
            <ul class="list">
                {move || {
                    let mut lines = lines.get();
                    lines.sort_by_key(|line| line.retired);
                    lines
                        .into_iter()
                        .map(|line| {
                            let id = line.id;
                            let right = if line.retired { "not used" } else { "" };
                            view! {
                                <Row title=line.title.clone() sub=line.sub right_sub=right>
                                    <button
                                        class="button"
                                        on:click=move |_| editing.set(Editing::Old(id))
                                    >
                                        "Change"
                                        <span class="visually-hidden">
                                            {format!(" {}", line.title)}
                                        </span>
                                    </button>
                                </Row>
                            }
                        })
                        .collect_view()
                }}
            </ul>
        }
        .into_any(),
        Editing::New => view! {
            <Sheet title=new.get_value() on_close=move || close.run(())>
                {form.with_value(|form| form(None, close))}
            </Sheet>
        }
        .into_any(),
        Editing::Old(id) => view! {
            <Sheet title=title_of(id) on_close=move || close.run(())>
                {form.with_value(|form| form(Some(id), close))}
            </Sheet>
        }
        .into_any(),
    }
}

/// A form that keeps one fact.
#[component]
pub(super) fn Keep<F>(
    /// Makes the fact: `None` when nothing was changed, words when something typed is wrong.
    make: F,
    /// What the button says.
    #[prop(default = "Keep")]
    button: &'static str,
    /// Called once it is kept, or when nothing was changed.
    done: Callback<()>,
    children: Children,
) -> impl IntoView
where
    F: Fn() -> Result<Option<Fact>, String> + 'static,
{
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
                        Ok(_) => done.run(()),
                        Err(reason) => problem.set(Some(format!("Not kept. {reason}"))),
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
