//! Codes: forty random bits that can be read aloud.

use std::sync::LazyLock;

use data_encoding::{Encoding, Specification};
use rusqlite::Connection;
use shared_types::units::Millis;
use shared_types::wire::limits::CODE_LIFE_MS;
use shared_types::wire::{Code, Role};

use super::sha256;
use crate::store::codes::{self, CodeRow};

/// Crockford's base 32: no I, L, O or U, and what is read for 0 and 1 is taken for them.
/// Source: D. Crockford, Base 32 (M).
static BASE32: LazyLock<Encoding> = LazyLock::new(|| {
    let mut base32 = Specification::new();
    base32.symbols.push_str("0123456789ABCDEFGHJKMNPQRSTVWXYZ");
    base32.translate.from.push_str("abcdefghjkmnpqrstvwxyzOoIiLl");
    base32.translate.to.push_str("ABCDEFGHJKMNPQRSTVWXYZ001111");
    base32.ignore.push_str("- \t\r\n");
    base32.encoding().expect("a valid specification")
});

/// A longer text is no code, and not worth decoding.
const TYPED_MAX_BYTES: usize = 64;

/// Makes a code from `random` that lets `uses` devices in as `role`, and keeps its hash.
///
/// # Errors
/// A failure of the database.
pub fn make_code(
    conn: &Connection,
    role: Role,
    uses: u32,
    random: [u8; 5],
    now: Millis,
) -> rusqlite::Result<Code> {
    let until = now.plus(CODE_LIFE_MS);
    let row = CodeRow { code_hash: sha256(&random), until, uses_left: uses, role, created: now };
    codes::put(conn, &row)?;
    Ok(Code { code: write(random), until })
}

/// The hash of a code as typed, if it has the shape of one.
pub(super) fn hash_typed(typed: &str) -> Option<[u8; 32]> {
    if typed.len() > TYPED_MAX_BYTES {
        return None;
    }
    let bytes: [u8; 5] = BASE32.decode(typed.as_bytes()).ok()?.try_into().ok()?;
    Some(sha256(&bytes))
}

/// In two groups of four, such as `K7QM-2RTX`.
fn write(random: [u8; 5]) -> String {
    let symbols = BASE32.encode(&random);
    let (one, other) = symbols.split_at(4);
    format!("{one}-{other}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_read_however_it_is_typed() {
        let random = [0x00, 0x44, 0x32, 0x14, 0xc7];
        let code = write(random);
        assert_eq!(code.len(), 9);
        let hash = hash_typed(&code);
        assert_eq!(hash, Some(sha256(&random)));
        for typed in [
            code.to_lowercase(),
            code.replace('-', ""),
            code.replace('-', " "),
            format!("  {code} \r\n"),
            code.replace('0', "O").replace('1', "I"),
            code.replace('0', "o").replace('1', "l"),
            code.replace('1', "L"),
            code.replace('1', "i"),
        ] {
            assert_eq!(hash_typed(&typed), hash, "{typed}");
        }
    }

    #[test]
    fn what_is_no_code() {
        for typed in ["", "K7QM-2RT", "K7QM-2RTXX", "K7QM-2RTU", "K7QM_2RTX", "é7QM-2RTX"] {
            assert_eq!(hash_typed(typed), None, "{typed}");
        }
        assert_eq!(hash_typed(&"-".repeat(1000)), None);
    }
}
