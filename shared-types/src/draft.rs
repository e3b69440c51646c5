//! A bin being typed: checked, in words for the person with the gloves on, before it is kept.
//!
//! The log itself takes what it gets; this is for the hand that has not let go yet.

use thiserror::Error;

use crate::ids::{ClassId, CropId};
use crate::trade::crops;
use crate::units::{Grams, Reading, WeightError, WeightUnit};

/// Where the weight comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Weighed {
    /// Typed, as the scale shows it, bin and all.
    Typed {
        /// The digits.
        text: String,
        /// What the scale shows in.
        unit: WeightUnit,
    },
    /// One press for a full, three-quarter or half bin: what is in it, without the bin.
    Filled(
        /// What is in it.
        Grams,
    ),
}

/// A bin before it is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The crop.
    pub crop: CropId,
    /// The class, once pressed.
    pub class: Option<ClassId>,
    /// The weight.
    pub weighed: Weighed,
    /// What the empty bin weighs.
    pub tare: Grams,
}

/// A draft that can be kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    /// The class.
    pub class: ClassId,
    /// The reading to keep.
    pub gross: Reading,
    /// What is in the bin.
    pub net: Grams,
}

/// Why a draft cannot be kept yet, and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum DraftError {
    /// No class pressed.
    #[error("which one? press {}", or_list(.classes))]
    NoClass {
        /// The crop's classes, by name.
        classes: Vec<String>,
    },
    /// A class of another crop.
    #[error("{crop} is not sorted as `{class}`: press {}", or_list(.classes))]
    UnknownClass {
        /// The crop, by name.
        crop: String,
        /// What was asked for.
        class: ClassId,
        /// The crop's classes, by name.
        classes: Vec<String>,
    },
    /// A crop the table does not have.
    #[error("`{crop}` is not in the crop table: choose another crop")]
    UnknownCrop {
        /// What was asked for.
        crop: CropId,
    },
    /// The weight.
    #[error(transparent)]
    Weight(#[from] WeightError),
}

impl Draft {
    /// The reading, if it is one: also before a class is pressed, to be shown while typing.
    pub fn reading(&self) -> Result<(Reading, Grams), WeightError> {
        let gross = match &self.weighed {
            Weighed::Typed { text, unit } => Reading::parse(text, *unit)?,
            Weighed::Filled(net) => Reading::from_grams(*net + self.tare).checked()?,
        };
        Ok((gross, gross.less_tare(self.tare)?))
    }

    /// The draft as it can be kept, or the first thing in the way.
    pub fn check(&self) -> Result<Checked, DraftError> {
        let crop = crops::crop(&self.crop)
            .ok_or_else(|| DraftError::UnknownCrop { crop: self.crop.clone() })?;
        let classes = || crop.classes.iter().map(|class| class.name.clone()).collect();
        let class = self.class.clone().ok_or_else(|| DraftError::NoClass { classes: classes() })?;
        if crop.class(&class).is_none() {
            return Err(DraftError::UnknownClass {
                crop: crop.name.clone(),
                class,
                classes: classes(),
            });
        }
        let (gross, net) = self.reading()?;
        Ok(Checked { class, gross, net })
    }
}

fn or_list(words: &[String]) -> String {
    match words {
        [] => "a class".to_owned(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(text: &str) -> Draft {
        Draft {
            crop: "tomato".into(),
            class: Some("ripe".into()),
            weighed: Weighed::Typed { text: text.to_owned(), unit: WeightUnit::Kg },
            tare: Grams(700),
        }
    }

    #[test]
    fn a_bin_is_gross_less_tare() {
        let checked = draft("10,1").check().expect("can be kept");
        assert_eq!((checked.gross.grams(), checked.net), (Grams(10_100), Grams(9_400)));
        let filled = Draft { weighed: Weighed::Filled(Grams(11_000)), ..draft("") };
        assert_eq!(filled.check().expect("can be kept").gross.grams(), Grams(11_700));
    }

    #[test]
    fn every_slip_is_told_in_words() {
        let no_class = Draft { class: None, ..draft("10.1") };
        let wrong_class = Draft { class: Some("sound".into()), ..draft("10.1") };
        let no_crop = Draft { crop: "durian".into(), ..draft("10.1") };
        let too_light = draft("0.7");
        for (draft, says) in [
            (no_class, "press Ripe, Colouring, Green or Hurt"),
            (wrong_class, "not sorted as `sound`"),
            (no_crop, "`durian` is not in the crop table"),
            (too_light, "the empty bin weighs 0.70 kg"),
            (draft("0"), "0 is not a bin"),
            (draft("-4"), "leave off the minus"),
            (draft("2500"), "over 2 t"),
            (draft("ten"), "`ten` is not a weight"),
        ] {
            let error = draft.check().expect_err("cannot be kept").to_string();
            assert!(error.contains(says), "{error}");
        }
    }
}
