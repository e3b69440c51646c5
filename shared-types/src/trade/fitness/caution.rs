//! What is said when somebody records a batch of fruit that is not fit for it.
//!
//! The record is kept, since it tells what stands on the shelf; the caution goes on screen and
//! label. Nothing here makes such a jar safe.

use super::Fitness;
use crate::trade::methods::{Kind, Method};
use crate::trade::provenance::Said;

/// The caution for a batch of `method` made of fruit of that `fitness`; `None` when it is fit.
/// Its source and mark are those of the rule that withholds the use.
pub fn caution_for(method: &Method, fitness: &Fitness) -> Option<Said> {
    let needed = method.kind.needs()?;
    if fitness.uses.allows(needed) {
        return None;
    }
    let what = match method.kind {
        Kind::Jar => {
            "Not for the shelf. No published guidance makes this fruit safe in a shelf-stable jar, pickles included, and more acid or a longer time does not mend it: keep these jars in the refrigerator or freezer, eat them soon, give none away as keeping jars. When in doubt throw it out, untasted"
        }
        Kind::Freeze => "Not fit for the freezer",
        Kind::Dry => "Drying this fruit is not covered by guidance",
        Kind::Fresh => "Not for the table",
        Kind::Feed | Kind::Compost => "Not for animals",
    };
    Some(Said {
        text: format!("{what}. {}", fitness.reason),
        source: fitness.source.clone(),
        mark: fitness.mark,
    })
}

/// The same in the few words a label holds; `None` when it is fit.
pub fn label_caution_for(method: &Method, fitness: &Fitness) -> Option<&'static str> {
    caution_for(method, fitness).map(|_| match method.kind {
        Kind::Jar => "NOT FOR THE SHELF: keep cold, eat soon",
        Kind::Freeze | Kind::Dry => "Fruit was not fit for this: look before eating",
        Kind::Fresh | Kind::Feed | Kind::Compost => "Not fit for this",
    })
}
