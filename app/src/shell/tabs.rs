//! Telling this browser's other tabs.

use wasm_bindgen::JsCast as _;
use web_sys::{BroadcastChannel, MessageEvent};

use super::js;

/// What one tab tells the others.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// The log on the disk is longer.
    Wrote,
    /// Who this phone is has changed: it joined, left or took a name.
    Me,
}

/// The channel between the tabs; silent in a browser without one, where each tab finds out at its
/// next write.
#[derive(Clone, Debug)]
pub struct Tabs(Option<BroadcastChannel>);

impl Tabs {
    /// Opens the channel and listens.
    pub fn open(mut heard: impl FnMut(Word) + 'static) -> Self {
        let channel = BroadcastChannel::new("lugbook").ok();
        if let Some(channel) = &channel {
            js::listen(channel, "message", move |event| {
                let data =
                    event.dyn_ref::<MessageEvent>().and_then(|event| event.data().as_string());
                match data.as_deref() {
                    Some("wrote") => heard(Word::Wrote),
                    Some("me") => heard(Word::Me),
                    // A tab of another build may know more words.
                    _ => {}
                }
            });
        }
        Self(channel)
    }

    /// Tells the others. They also find out at their next write, so a closed channel is no loss.
    pub fn tell(&self, word: Word) {
        let text = match word {
            Word::Wrote => "wrote",
            Word::Me => "me",
        };
        if let Some(channel) = &self.0 {
            let told = channel.post_message(&text.into());
            debug_assert!(told.is_ok(), "the channel is open as long as the tab");
        }
    }
}
