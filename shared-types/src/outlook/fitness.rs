//! A lot as the fitness table asks about it.

use serde::de::DeserializeOwned;

use crate::book::lots::Lot;
use crate::trade::crops::Defect;
use crate::trade::fitness::{Asked, Fruit, Ripened, Vines};

/// The question of what `lot` may be used for. Vines or fruit in a word this program does not know
/// are unknown after a cold night, which withholds the jar; an unknown defect is `other`.
pub fn asked(lot: &Lot) -> Asked {
    let condition = &lot.condition;
    let cold_seen = condition.unsettled || condition.vines.is_some() || condition.fruit.is_some();
    Asked {
        crop: lot.crop.clone(),
        class: lot.class.clone(),
        vines: condition.vines.as_deref().and_then(word).unwrap_or(Vines::Unknown),
        fruit: condition.fruit.as_deref().and_then(word).unwrap_or(Fruit::Unknown),
        ripened: Ripened::Unknown,
        defect: lot.defect.as_deref().map(|defect| word(defect).unwrap_or(Defect::Other)),
        cold_seen,
    }
}

/// Reads a word of the log as one of the trade's.
pub(super) fn word<T: DeserializeOwned>(text: &str) -> Option<T> {
    serde_json::from_value(serde_json::Value::String(text.to_owned())).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_this_program_does_not_know_is_read_cautiously() {
        assert_eq!(word::<Vines>("dead"), Some(Vines::Dead));
        assert_eq!(word::<Vines>("withered"), None);
        assert_eq!(word::<Defect>("blossom_end_rot"), Some(Defect::BlossomEndRot));
    }
}
