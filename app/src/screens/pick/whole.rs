//! A bin with everything it needs, as a new one or as a change of an old one. Pure.

use shared_types::entry::{BinCorrected, BinKept};
use shared_types::ids::{BinId, BinTypeId, ClassId, CropId, PersonId, PickId, PlaceId, VarietyId};
use shared_types::units::{Grams, Millis, Reading};

/// A bin ready to be kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Whole {
    /// The outing.
    pub pick: PickId,
    /// Where.
    pub place: PlaceId,
    /// The crop.
    pub crop: CropId,
    /// The variety.
    pub variety: Option<VarietyId>,
    /// The kind of container.
    pub bin_type: Option<BinTypeId>,
    /// The class.
    pub class: ClassId,
    /// What the scale shows.
    pub gross: Reading,
    /// What the empty bin weighs.
    pub tare: Grams,
    /// What is wrong with it.
    pub defect: Option<String>,
    /// The colour stage.
    pub stage: Option<String>,
    /// The tag on the container.
    pub tag: Option<String>,
}

impl Whole {
    /// As a new bin.
    pub fn kept(self, bin: BinId, person: PersonId, at: Millis) -> BinKept {
        BinKept {
            bin,
            pick: self.pick,
            place: self.place,
            crop: self.crop,
            class: self.class,
            gross: self.gross,
            tare: self.tare,
            person,
            at,
            variety: self.variety,
            stage: self.stage,
            defect: self.defect,
            bin_type: self.bin_type,
            room: None,
            tag: self.tag,
        }
    }

    /// As a change of `before`: only the fields that differ; `None` when none does.
    pub fn corrects(self, before: &BinKept, person: PersonId) -> Option<BinCorrected> {
        let word = |now: Option<String>, then: &Option<String>| {
            // An empty word takes one away.
            (now != *then).then(|| now.unwrap_or_default())
        };
        let correction = BinCorrected {
            bin: before.bin,
            person,
            place: (self.place != before.place).then_some(self.place),
            crop: (self.crop != before.crop).then_some(self.crop),
            class: (self.class != before.class).then_some(self.class),
            // A correction cannot take a variety away, only name another.
            variety: self.variety.filter(|variety| Some(*variety) != before.variety),
            gross: (self.gross != before.gross).then_some(self.gross),
            tare: (self.tare != before.tare).then_some(self.tare),
            stage: word(self.stage, &before.stage),
            defect: word(self.defect, &before.defect),
            room: None,
        };
        let nothing = BinCorrected::nothing(before.bin, person);
        (correction != nothing).then_some(correction)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn whole() -> Whole {
        Whole {
            pick: PickId::new(Millis(1), [1; 10]),
            place: PlaceId::new(Millis(1), [2; 10]),
            crop: "tomato".into(),
            variety: None,
            bin_type: None,
            class: "ripe".into(),
            gross: Reading::from_grams(Grams(10_100)),
            tare: Grams(700),
            defect: Some("split".to_owned()),
            stage: None,
            tag: None,
        }
    }

    #[test]
    fn a_change_names_only_what_differs() {
        let person = PersonId::new(Millis(1), [3; 10]);
        let kept = whole().kept(BinId::new(Millis(1), [4; 10]), person, Millis(5));
        assert_eq!(whole().corrects(&kept, person), None);
        let now = Whole { class: "green".into(), defect: None, ..whole() };
        let change = now.corrects(&kept, person).expect("differs");
        assert_eq!(change.class, Some("green".into()));
        assert_eq!(change.defect, Some(String::new()), "an empty word takes the defect away");
        assert_eq!((change.gross, change.tare, change.stage), (None, None, None));
    }
}
