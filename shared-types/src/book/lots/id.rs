//! The derived names of lots: the first 16 bytes of a SHA-256 over what a lot is, marked as UUIDv8
//! (RFC 9562 §5.8).
//!
//! Frozen: entries on every phone name lots by these. A change would make all of them strays.

use sha2::{Digest as _, Sha256};
use uuid::Builder;

use super::Condition;
use crate::entry::BinKept;
use crate::ids::{LotId, RoundId};

/// The lot a bin belongs to.
pub(super) fn of_bin(bin: &BinKept, condition: &Condition) -> LotId {
    let mut sha = Sha256::new();
    let mut word = |text: Option<&str>| {
        // Length first, so that no two lists of words run together to the same bytes.
        let text = text.unwrap_or("");
        sha.update(u32::try_from(text.len()).unwrap_or(u32::MAX).to_be_bytes());
        sha.update(text.as_bytes());
    };
    word(Some(bin.crop.as_str()));
    word(Some(bin.class.as_str()));
    word(bin.stage.as_deref());
    word(bin.defect.as_deref());
    word(condition.vines.as_deref());
    word(condition.fruit.as_deref());
    word(condition.unsettled.then_some("unsettled"));
    sha.update(bin.pick.0);
    sha.update(bin.place.0);
    sha.update(bin.variety.map_or([0; 16], |id| id.0.into_bytes()));
    sha.update(bin.room.map_or([0; 16], |id| id.0.into_bytes()));
    name(sha)
}

/// The lot a round makes of what it takes out (`word`). `of` is the lot it came out of, and only
/// named when the round's lot has since become several: their parts must not be one lot.
pub(super) fn of_round(round: RoundId, word: &str, of: Option<LotId>) -> LotId {
    let mut sha = Sha256::new();
    sha.update(b"round");
    sha.update(round.0);
    sha.update(word.as_bytes());
    if let Some(of) = of {
        sha.update(of.0);
    }
    name(sha)
}

fn name(sha: Sha256) -> LotId {
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&sha.finalize()[..16]);
    LotId(Builder::from_custom_bytes(bytes).into_uuid())
}
