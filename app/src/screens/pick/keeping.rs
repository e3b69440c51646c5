//! Keeping: a new bin, a change, a strike, two bins that are two. Nothing is cleared from the form
//! before it is on the phone's disk, and a failure is said wherever the person is by then.

use leptos::prelude::*;
use shared_types::book::Book;
use shared_types::entry::{BinKept, BinStruck, BinsApart};
use shared_types::ids::BinId;

use super::form::Typed;
use super::state::{Line, Open, State};
use super::whole::Whole;
use crate::shell::vibrate;
use crate::words;

impl State {
    /// The bin as it can be kept, or what is missing.
    fn whole(self) -> Result<Whole, Missing> {
        let checked = self.draft().check().map_err(|error| Missing::Words(error.to_string()))?;
        let chosen = self.chosen.get();
        let typed = self.typed.get();
        let pick = chosen.pick.ok_or(Missing::Pick)?;
        let place = chosen.place.ok_or(Missing::Place)?;
        Ok(Whole {
            pick,
            place,
            crop: self.crop(),
            variety: chosen.variety,
            bin_type: chosen.bin_type,
            class: checked.class,
            gross: checked.gross,
            tare: self.tare(),
            defect: typed.defect,
            stage: typed.stage,
            tag: typed.tag,
        })
    }

    /// Keeps the bin, or says what is missing. Nothing is cleared before it is on the disk.
    pub(super) fn keep(self) {
        if self.busy.get_untracked() {
            return;
        }
        let whole = match untrack(|| self.whole()) {
            Ok(whole) => whole,
            Err(missing) => return self.say_missing(missing),
        };
        match self.changing.get_untracked() {
            Some(changing) => self.keep_change(whole, &changing.before),
            None => self.keep_new(whole),
        }
    }

    fn say_missing(self, missing: Missing) {
        match missing {
            Missing::Words(phrase) => self.line.set(Line::Wrong(words::sentence(&phrase))),
            Missing::Pick => {
                self.open.set(Some(Open::Pick));
                self.asked
                    .set(Some("Which pick is this? Choose it, or open a new one; then Keep."));
            }
            Missing::Place => {
                self.open.set(Some(Open::Place));
                self.asked
                    .set(Some("Where was it picked? Choose, or name a new place; then Keep."));
            }
        }
    }

    fn keep_new(self, whole: Whole) {
        let farm = self.farm;
        let typed = self.typed.get_untracked();
        let bin = farm.fresh(BinId::new);
        let fact = whole.kept(bin, farm.person(), farm.now());
        let words = format!("kept {} \u{b7} {}", farm.time(fact.at), untrack(|| self.what(&fact)));
        self.busy.set(true);
        farm.keep_then(fact, move |kept| {
            self.busy.set(false);
            match kept {
                Ok(_) => {
                    vibrate::kept();
                    self.clear_if(&typed);
                    self.line.set(Line::Kept { words, bin, fresh: true });
                    self.fade(bin);
                }
                Err(reason) => self.say_wrong(format!("Not kept. {reason}")),
            }
        });
    }

    /// What went wrong must be said, also when the person has gone to another screen meanwhile.
    fn say_wrong(self, words: String) {
        if let Some(Line::Wrong(words)) = self.line.try_set(Line::Wrong(words)) {
            self.farm.tell(words);
        }
    }

    fn keep_change(self, whole: Whole, before: &BinKept) {
        let farm = self.farm;
        let typed = self.typed.get_untracked();
        let Some(fact) = whole.corrects(before, farm.person()) else {
            self.stop_changing();
            self.line.set(Line::Done("nothing changed".to_owned()));
            return;
        };
        self.busy.set(true);
        farm.keep_then(fact, move |kept| {
            self.busy.set(false);
            match kept {
                Ok(_) => {
                    vibrate::kept();
                    self.clear_if(&typed);
                    self.stop_changing();
                    self.line.set(Line::Done(format!("changed {}", farm.time(farm.now()))));
                }
                Err(reason) => self.say_wrong(format!("Not kept. {reason}")),
            }
        });
    }

    /// Clears the form, unless the next bin is being typed already.
    fn clear_if(self, typed: &Typed) {
        if self.typed.try_with_untracked(|now| now == typed) == Some(true) {
            self.typed.set(Typed::default());
        }
    }

    /// After a few seconds the line is no news any more.
    fn fade(self, kept: BinId) {
        let fade = move || {
            self.line.update(|line| {
                if let Line::Kept { bin, fresh, .. } = line
                    && *bin == kept
                {
                    *fresh = false;
                }
            });
        };
        set_timeout(fade, std::time::Duration::from_secs(4));
    }

    /// Takes a bin out of the totals.
    pub(super) fn strike(self, bin: BinId, why: Option<&str>) {
        let farm = self.farm;
        let what = farm.book.with_untracked(|book| self.what_of(book, bin));
        let why = why.map(str::to_owned);
        farm.keep_then(BinStruck { bin, person: farm.person(), why }, move |kept| match kept {
            Ok(_) => self.line.set(Line::Done(format!("taken out \u{b7} {what}"))),
            Err(reason) => self.say_wrong(format!("Not taken out. {reason}")),
        });
    }

    /// Two bins that look alike are two.
    pub(super) fn keep_both(self, one: BinId, other: BinId) {
        self.farm.keep_then(BinsApart { one, other }, move |kept| match kept {
            Ok(_) => self.line.set(Line::Done("both bins count".to_owned())),
            Err(reason) => self.say_wrong(format!("Not kept. {reason}")),
        });
    }

    fn what_of(self, book: &Book, bin: BinId) -> String {
        let bin = book.bins.get(&bin).and_then(|bin| bin.now());
        bin.map_or_else(String::new, |bin| untrack(|| self.what(&bin)))
    }
}

/// What is in the way of keeping.
enum Missing {
    Words(String),
    Pick,
    Place,
}
