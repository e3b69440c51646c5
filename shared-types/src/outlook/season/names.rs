//! Names of what was grown.

use crate::book::Book;
use crate::ids::{CropId, VarietyId};
use crate::trade::crops;

/// A crop with its variety, as it stands in lists: `Tomato, Paste`.
pub fn crop_and_variety(book: &Book, crop: &CropId, variety: Option<VarietyId>) -> String {
    match variety {
        Some(variety) => format!("{}, {}", crop_name(crop), book.variety_name(variety)),
        None => crop_name(crop),
    }
}

pub(super) fn crop_name(crop: &CropId) -> String {
    crops::crop(crop).map_or_else(|| crop.to_string(), |crop| crop.name.clone())
}
