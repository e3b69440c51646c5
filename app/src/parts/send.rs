//! How much is not yet sent: always in sight, and never an error by itself.

use leptos::prelude::*;
use leptos_router::components::A;
use shared_types::engine::{Link, Status};

use crate::farm::use_farm;

/// The pill in the header; leads to the state of this phone.
#[component]
pub(super) fn Send() -> impl IntoView {
    let farm = use_farm();
    let words = Memo::new(move |_| farm.status.with(words));
    let state = Memo::new(move |_| farm.status.with(state));
    view! {
        <A href="/house/phone" attr:class="send" attr:data-state=move || state.get()>
            {move || words.get()}
        </A>
    }
}

/// What the pill says.
fn words(status: &Status) -> String {
    let unsent = status.unsent;
    match (&status.link, unsent) {
        (Link::NotJoined, 0) => "not joined".to_owned(),
        (Link::NotJoined, _) => format!("{unsent} kept, not joined"),
        (Link::Waiting, 0) => "offline".to_owned(),
        (Link::Waiting, _) => format!("offline, {unsent} kept here"),
        (Link::Stopped(_), 0) => "not sending".to_owned(),
        (Link::Stopped(_), _) => format!("not sending, {unsent} kept here"),
        (_, 0) => "all sent".to_owned(),
        (_, _) => format!("{unsent} to send"),
    }
}

fn state(status: &Status) -> &'static str {
    match (&status.link, status.unsent) {
        (Link::Stopped(_), _) => "stopped",
        (_, 0) => "sent",
        (_, _) => "waiting",
    }
}

#[cfg(test)]
mod tests {
    use shared_types::wire::RefusalCode;

    use super::*;

    #[test]
    fn what_is_unsent_is_always_told() {
        let status = |link, unsent| Status { unsent, kept: 9, link, skew_ms: None };
        let stopped = || Link::Stopped(RefusalCode::Revoked.into());
        for (link, unsent, says) in [
            (Link::Good, 0, "all sent"),
            (Link::Trying, 4, "4 to send"),
            (Link::Following, 4, "4 to send"),
            (Link::Waiting, 4, "offline, 4 kept here"),
            (Link::NotJoined, 2, "2 kept, not joined"),
            (stopped(), 3, "not sending, 3 kept here"),
        ] {
            assert_eq!(words(&status(link, unsent)), says);
        }
        assert_eq!(state(&status(stopped(), 0)), "stopped");
        assert_eq!(state(&status(Link::Waiting, 4)), "waiting");
    }
}
