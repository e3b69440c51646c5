//! The state of the Pick screen, and what its presses do.

use leptos::prelude::*;
use shared_types::draft::Draft;
use shared_types::entry::BinKept;
use shared_types::ids::{BinId, BinTypeId, CropId, PickId, PlaceId, VarietyId};
use shared_types::units::{Grams, WeightUnit};

use super::form::{Chosen, Typed};
use crate::farm::Farm;
use crate::shell::memory::{self, Span};
use crate::words;

const CHOSEN: &str = "lugbook.chosen";
const TYPED: &str = "lugbook.typed";

/// What stands in the lower part instead of class, weight and keypad.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Open {
    Pick,
    Place,
    Crop,
    BinType,
    Defect,
    Last,
}

/// What the line under Keep says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Line {
    Nothing,
    Kept { words: String, bin: BinId, fresh: bool },
    Done(String),
    Wrong(String),
}

/// The screen's state. A handle, free to copy.
#[derive(Clone, Copy, Debug)]
pub(super) struct State {
    pub farm: Farm,
    /// The phone's own four chips.
    own: RwSignal<Chosen>,
    /// The bin being changed, with the chips it was kept under.
    pub changing: RwSignal<Option<Changing>>,
    pub typed: RwSignal<Typed>,
    pub open: RwSignal<Option<Open>>,
    pub line: RwSignal<Line>,
    /// What a sheet should say first: why it was opened.
    pub asked: RwSignal<Option<&'static str>>,
    /// A bin is on its way to the disk.
    pub busy: RwSignal<bool>,
    /// The chips in force, with what is obvious filled in.
    pub chosen: Memo<Chosen>,
}

/// A bin being changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Changing {
    pub before: BinKept,
    pub chosen: Chosen,
}

impl State {
    pub(super) fn new(farm: Farm) -> Self {
        let own = RwSignal::new(memory::recall(Span::Lasting, CHOSEN).unwrap_or_default());
        let typed = RwSignal::new(memory::recall(Span::Tab, TYPED).unwrap_or_default());
        let changing = RwSignal::new(None::<Changing>);
        let chosen = Memo::new(move |_| match changing.get() {
            Some(changing) => changing.chosen,
            None => farm.book.with(|book| own.with(|own: &Chosen| own.filled_in(book))),
        });
        // What is typed outlives a reload, also one the phone forces on the page. A change does not:
        // it would come back as another new bin.
        Effect::new(move |_| {
            let is_change = changing.with(Option::is_some);
            typed.with(|typed: &Typed| {
                let outlives = if is_change { Typed::default() } else { typed.clone() };
                memory::remember(Span::Tab, TYPED, &outlives);
                farm.typing.set(!typed.is_empty());
            });
        });
        on_cleanup(move || farm.typing.set(false));
        Self {
            farm,
            own,
            changing,
            typed,
            open: RwSignal::new(None),
            line: RwSignal::new(Line::Nothing),
            asked: RwSignal::new(None),
            busy: RwSignal::new(false),
            chosen,
        }
    }

    /// The crop in force. Tracked.
    pub(super) fn crop(self) -> CropId {
        self.chosen.with(|chosen| chosen.crop.clone()).unwrap_or_else(|| CropId::from(""))
    }

    /// The unit weights are typed and shown in: of the bin being changed, or of the holding. Tracked.
    pub(super) fn unit(self) -> WeightUnit {
        self.farm.unit()
    }

    /// The empty bin. A bin being changed keeps the tare it was kept with, unless its kind is chosen
    /// anew. Tracked.
    pub(super) fn tare(self) -> Grams {
        let changed = self.changing.with(|changing| {
            let changing = changing.as_ref()?;
            (changing.chosen.bin_type == changing.before.bin_type).then_some(changing.before.tare)
        });
        changed.unwrap_or_else(|| {
            self.farm.book.with(|book| self.chosen.with(|chosen| chosen.tare(book)))
        })
    }

    /// What is typed, as a draft. Tracked.
    pub(super) fn draft(self) -> Draft {
        self.typed.with(|typed| typed.draft(self.crop(), self.tare(), self.unit()))
    }

    /// What is in the bin, as soon as what is typed is a weight. Tracked.
    pub(super) fn net(self) -> Option<Grams> {
        self.draft().reading().ok().map(|(_, net)| net)
    }

    pub(super) fn toggle(self, sheet: Open) {
        self.asked.set(None);
        self.open.update(|open| *open = if *open == Some(sheet) { None } else { Some(sheet) });
    }

    pub(super) fn close(self) {
        self.asked.set(None);
        self.open.set(None);
    }

    fn choose(self, change: impl FnOnce(&mut Chosen)) {
        if self.changing.with_untracked(Option::is_some) {
            self.changing.update(|changing| {
                if let Some(changing) = changing {
                    change(&mut changing.chosen);
                }
            });
        } else {
            self.own.update(|own| {
                change(own);
                memory::remember(Span::Lasting, CHOSEN, own);
            });
        }
        self.close();
    }

    pub(super) fn choose_pick(self, pick: PickId) {
        self.choose(|chosen| chosen.pick = Some(pick));
    }

    pub(super) fn choose_place(self, place: PlaceId) {
        self.choose(|chosen| chosen.place = Some(place));
    }

    pub(super) fn choose_bin_type(self, bin_type: Option<BinTypeId>) {
        self.choose(|chosen| chosen.bin_type = bin_type);
    }

    pub(super) fn choose_crop(self, crop: CropId, variety: Option<VarietyId>) {
        if self.crop_untracked() != crop {
            // Classes and stages are the crop's own.
            self.typed.update(|typed| {
                typed.class = None;
                typed.stage = None;
            });
        }
        self.choose(|chosen| {
            chosen.crop = Some(crop);
            chosen.variety = variety;
        });
    }

    fn crop_untracked(self) -> CropId {
        untrack(|| self.crop())
    }

    /// Something is typed: what the line said is over.
    pub(super) fn edit(self, change: impl FnOnce(&mut Typed)) {
        if self.line.with_untracked(|line| matches!(line, Line::Wrong(_))) {
            self.line.set(Line::Nothing);
        }
        self.typed.update(change);
    }

    /// Opens a bin in the form.
    pub(super) fn change(self, bin: &BinKept) {
        self.typed.set(Typed::of_bin(bin, untrack(|| self.unit())));
        self.changing.set(Some(Changing {
            before: bin.clone(),
            chosen: Chosen {
                pick: Some(bin.pick),
                place: Some(bin.place),
                crop: Some(bin.crop.clone()),
                variety: bin.variety,
                bin_type: bin.bin_type,
            },
        }));
        self.line.set(Line::Nothing);
        self.close();
    }

    /// Back to logging new bins; what was typed for the change is over.
    pub(super) fn stop_changing(self) {
        self.changing.set(None);
        self.typed.set(Typed::default());
    }

    /// A bin in few words: `ripe 10.3 kg`. Tracked.
    pub(super) fn what(self, bin: &BinKept) -> String {
        let net = (bin.gross.grams() - bin.tare).max(Grams::ZERO);
        let class = words::class_name(&bin.crop, &bin.class).to_lowercase();
        format!("{class} {}", words::weight(net, self.unit()))
    }
}
