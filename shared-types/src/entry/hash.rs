//! Content hashes, and the running digest that tells two logs apart.

use std::fmt;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest as _, Sha256};

use super::Entry;

/// SHA-256 of an entry's content. Two entries of one id must have one hash.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash(pub [u8; 32]);

/// A running digest over entry hashes in server order. Equal digests at a cursor mean equal logs
/// up to it.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub struct Digest(pub [u8; 32]);

impl Entry {
    /// Its content hash: SHA-256 over
    /// `device (16) ‖ device_seq (u64) ‖ wall (i64) ‖ count (u16) ‖ kind_version (u16) ‖
    /// length of kind (u32) ‖ kind ‖ payload`, numbers big-endian.
    pub fn hash(&self) -> Hash {
        let kind_len = u32::try_from(self.kind.len()).unwrap_or(u32::MAX);
        let mut sha = Sha256::new();
        sha.update(self.device.0.as_bytes());
        sha.update(self.device_seq.to_be_bytes());
        sha.update(self.hlc.0.0.to_be_bytes());
        sha.update(self.hlc.1.to_be_bytes());
        sha.update(self.kind_version.to_be_bytes());
        sha.update(kind_len.to_be_bytes());
        sha.update(self.kind.as_bytes());
        sha.update(self.payload.get().as_bytes());
        Hash(sha.finalize().into())
    }
}

impl Digest {
    /// The digest of a log one entry longer: SHA-256 over `digest ‖ hash`.
    #[must_use]
    pub fn then(self, next: Hash) -> Self {
        let mut sha = Sha256::new();
        sha.update(self.0);
        sha.update(next.0);
        Self(sha.finalize().into())
    }
}

/// Both are written as 64 lower-case hexadecimal digits.
macro_rules! hexadecimal {
    ($name:ident) => {
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{}({self})", stringify!($name))
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.collect_str(self)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
                read_hex(&text)
                    .map(Self)
                    .ok_or_else(|| D::Error::custom("expected 64 hexadecimal digits"))
            }
        }
    };
}

hexadecimal!(Hash);
hexadecimal!(Digest);

fn read_hex(text: &str) -> Option<[u8; 32]> {
    let digits = text.as_bytes();
    if digits.len() != 64 || !digits.iter().all(u8::is_ascii_hexdigit) {
        return None;
    }
    let mut bytes = [0; 32];
    for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
        *byte = u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()?;
    }
    Some(bytes)
}
