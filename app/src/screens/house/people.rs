//! Who picks.

use leptos::prelude::*;
use shared_types::entry::PersonSet;
use shared_types::ids::PersonId;

use super::edit::{Keep, Line, Things};
use crate::farm::use_farm;
use crate::parts::Field;
use crate::typed::changed_words;

#[component]
pub(super) fn People() -> impl IntoView {
    let farm = use_farm();
    let lines = Signal::derive(move || {
        let own = farm.person();
        farm.book.with(|book| {
            book.people
                .keys()
                .map(|id| Line {
                    id: id.0,
                    title: book.person_name(*id).to_owned(),
                    order: book.person_name(*id).to_lowercase(),
                    sub: if *id == own { "holds this phone".to_owned() } else { String::new() },
                    retired: false,
                })
                .collect()
        })
    });
    view! {
        <Things
            lines
            new="New person"
            empty="Nobody yet. Whoever joins with a phone appears here by themselves."
            form=|id, done| view! { <PersonForm id=id.map(PersonId) done /> }.into_any()
        />
    }
}

#[component]
fn PersonForm(id: Option<PersonId>, done: Callback<()>) -> impl IntoView {
    let farm = use_farm();
    let before = id
        .and_then(|id| farm.book.with_untracked(|book| book.people.get(&id)?.name.get().cloned()));
    let person = id.unwrap_or_else(|| farm.fresh(PersonId::new));
    let name = RwSignal::new(before.clone().unwrap_or_default());
    let make = Box::new(move || {
        let name = changed_words(&name.get_untracked(), before.as_ref());
        Ok(name.map(|name| PersonSet { person, name }.into()))
    });
    view! {
        <Keep make done>
            <Field label="Name" value=name />
        </Keep>
    }
}
