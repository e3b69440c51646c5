//! What is chosen and typed on Pick, without the screen: pure, so that it can be tested anywhere.

use serde::{Deserialize, Serialize};
use shared_types::book::Book;
use shared_types::draft::{Draft, Weighed};
use shared_types::entry::BinKept;
use shared_types::ids::{BinTypeId, ClassId, CropId, PickId, PlaceId, VarietyId};
use shared_types::trade::crops;
use shared_types::units::{Grams, Reading, WeightUnit};

use super::key::Key;
use crate::words;

/// Digits before the point: 9999 kg is past the heaviest bin.
const WHOLE_DIGITS_MAX: usize = 4;

/// Digits after the point, as a reading holds them.
const DECIMALS_MAX: usize = 3;

/// The four chips: what stays set from bin to bin until someone changes it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Chosen {
    /// The outing.
    pub pick: Option<PickId>,
    /// Where.
    pub place: Option<PlaceId>,
    /// The crop.
    pub crop: Option<CropId>,
    /// The variety, when known.
    pub variety: Option<VarietyId>,
    /// The kind of container.
    pub bin_type: Option<BinTypeId>,
}

impl Chosen {
    /// What was chosen, with what is obvious filled in: the open pick, the only place, the only
    /// kind of bin. A pick that was closed elsewhere is let go for one that is open.
    pub fn filled_in(&self, book: &Book) -> Self {
        let is_open = |pick: &PickId| {
            book.picks.get(pick).is_none_or(|pick| pick.closed.get() != Some(&true))
        };
        let only_place = || {
            let mut open = book.places.iter().filter(|(_, p)| p.retired.get() != Some(&true));
            open.next().map(|(id, _)| *id).filter(|_| open.next().is_none())
        };
        let only_bin_type = || {
            let mut open = book.bin_types.iter().filter(|(_, t)| t.retired.get() != Some(&true));
            open.next().map(|(id, _)| *id).filter(|_| open.next().is_none())
        };
        Self {
            pick: self.pick.filter(is_open).or_else(|| book.open_pick()),
            place: self.place.or_else(only_place),
            crop: self.crop.clone().or_else(|| crops::all().first().map(|crop| crop.slug.clone())),
            variety: self.variety,
            bin_type: self.bin_type.or_else(only_bin_type),
        }
    }

    /// What the empty bin weighs; nothing when no kind is chosen.
    pub fn tare(&self, book: &Book) -> Grams {
        self.bin_type
            .and_then(|id| book.bin_types.get(&id)?.tare.get().copied())
            .unwrap_or(Grams::ZERO)
    }

    /// What is in a full bin, when the kind says so.
    pub fn full(&self, book: &Book) -> Option<Grams> {
        self.bin_type.and_then(|id| book.bin_types.get(&id)?.full.get().copied())
    }
}

/// One bin being typed. Outlives a reload of the page.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Typed {
    /// What the scale shows, as typed.
    pub text: String,
    /// In it by a preset, instead of a typed weight.
    pub filled: Option<Grams>,
    /// The class.
    pub class: Option<ClassId>,
    /// What is wrong with it.
    pub defect: Option<String>,
    /// The colour stage.
    pub stage: Option<String>,
    /// The tag on the container.
    pub tag: Option<String>,
}

impl Typed {
    /// Nothing typed or pressed.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Takes one key of the keypad: a digit, a point, or back.
    pub fn press(&mut self, key: Key) {
        if self.filled.take().is_some() {
            self.text.clear();
        }
        match key {
            Key::Back => {
                self.text.pop();
            }
            Key::Point if self.text.contains('.') => {}
            Key::Point if self.text.is_empty() => self.text.push_str("0."),
            Key::Point => self.text.push('.'),
            Key::Digit(digit) => {
                if self.text == "0" {
                    self.text.clear();
                }
                let room = match self.text.split_once('.') {
                    Some((_, decimals)) => decimals.len() < DECIMALS_MAX,
                    None => self.text.len() < WHOLE_DIGITS_MAX,
                };
                if room && digit < 10 {
                    self.text.push(char::from(b'0' + digit));
                }
            }
        }
    }

    /// Takes a preset: what is in the bin, without weighing.
    pub fn fill(&mut self, net: Grams) {
        self.text.clear();
        self.filled = Some(net);
    }

    /// The draft that `shared_types` checks.
    pub fn draft(&self, crop: CropId, tare: Grams, unit: WeightUnit) -> Draft {
        let weighed = match self.filled {
            Some(net) => Weighed::Filled(net),
            None => Weighed::Typed { text: self.text.clone(), unit },
        };
        Draft { crop, class: self.class.clone(), weighed, tare }
    }

    /// A bin that is there already, to be changed.
    pub fn of_bin(bin: &BinKept, unit: WeightUnit) -> Self {
        let (text, filled) = if bin.gross.unit == unit {
            (typed(bin.gross), None)
        } else {
            (String::new(), Some(bin.gross.grams() - bin.tare))
        };
        Self {
            text,
            filled,
            class: Some(bin.class.clone()),
            defect: bin.defect.clone(),
            stage: bin.stage.clone(),
            // A tag stays with its bin; it cannot be corrected.
            tag: None,
        }
    }

    /// What was said of the bin beyond class and weight, in words; `None` when nothing was.
    pub fn said(&self) -> Option<String> {
        let words = [
            self.defect.as_deref().map(words::defect_words),
            self.stage.as_deref().map(words::stage_words),
            self.tag.as_ref().map(|tag| format!("tag {tag}")),
        ];
        let said: Vec<String> = words.into_iter().flatten().collect();
        (!said.is_empty()).then(|| said.join(", "))
    }
}

/// A reading as it was typed, without its unit.
fn typed(reading: Reading) -> String {
    let written = reading.to_string();
    written.split(' ').next().unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use shared_types::units::Millis;

    use super::*;

    fn type_in(keys: &str) -> String {
        let mut typed = Typed::default();
        for key in keys.split(' ') {
            typed.press(Key::of_keyboard(key).expect("a key"));
        }
        typed.text
    }

    #[test]
    fn the_keypad_takes_only_what_a_scale_shows() {
        for (keys, text) in [
            ("1 0 . 1", "10.1"),
            ("1 0 , 1 . 2", "10.12"),
            (". 5", "0.5"),
            ("0 0 7", "7"),
            ("1 2 3 4 5", "1234"),
            ("9 . 1 2 3 4", "9.123"),
            ("9 . Backspace Backspace Backspace", ""),
        ] {
            assert_eq!(type_in(keys), text, "{keys}");
        }
        assert_eq!(Key::of_keyboard("Enter"), None);
        assert_eq!(Key::of_keyboard("12"), None);
    }

    #[test]
    fn a_preset_and_a_typed_weight_replace_each_other() {
        let mut typed = Typed { text: "9.4".to_owned(), ..Typed::default() };
        typed.fill(Grams(11_000));
        let draft = typed.draft("tomato".into(), Grams(700), WeightUnit::Kg);
        assert_eq!(draft.reading().map(|(gross, _)| gross.grams()), Ok(Grams(11_700)));
        typed.press(Key::Digit(3));
        assert_eq!((typed.text.as_str(), typed.filled), ("3", None));
    }

    #[test]
    fn what_is_obvious_need_not_be_chosen() {
        let mut book = Book::default();
        assert_eq!(Chosen::default().filled_in(&book).crop, Some("tomato".into()));
        let place = PlaceId::new(Millis(1), [2; 10]);
        book.places.entry(place).or_default();
        assert_eq!(Chosen::default().filled_in(&book).place, Some(place));
        book.places.entry(PlaceId::new(Millis(1), [3; 10])).or_default();
        assert_eq!(Chosen::default().filled_in(&book).place, None);
    }
}
