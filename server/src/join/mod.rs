//! Who comes in: codes, tokens and the rules of joining, as plain functions over a connection.
//!
//! A code is short enough to type and lives an hour; wrong ones are counted over all phones. A
//! token has 256 random bits and is stored only as its SHA-256: so many bits need no slow hash
//! (OWASP ASVS 5.0, 6.5.2).

mod code;
mod enrol;
mod token;
mod tries;

pub use code::make_code;
pub use enrol::{enrol, let_sensor_in, renew};
pub use token::Token;
pub use tries::Tries;

use sha2::{Digest as _, Sha256};

fn sha256(bytes: &[u8]) -> [u8; 32] {
    Sha256::digest(bytes).into()
}
