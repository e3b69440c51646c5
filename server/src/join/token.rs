//! The secret a device sends with each request.

use data_encoding::BASE64URL_NOPAD;

use super::sha256;

/// A token as it travels: `lb_` and 32 random bytes in base64url. The prefix lets a person, or a
/// scanner of leaked files, see what it is.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

const PREFIX: &str = "lb_";

impl Token {
    /// The token of `random`.
    pub fn new(random: [u8; 32]) -> Self {
        Self(format!("{PREFIX}{}", BASE64URL_NOPAD.encode(&random)))
    }

    /// The token someone sent, right or not.
    pub fn sent(text: &str) -> Self {
        Self(text.to_owned())
    }

    /// What travels. Never for a log.
    pub fn reveal(&self) -> &str {
        &self.0
    }

    /// What is stored.
    pub fn hash(&self) -> [u8; 32] {
        sha256(self.0.as_bytes())
    }
}

impl std::fmt::Debug for Token {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Token(…)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_is_256_bits_and_never_printed() {
        let token = Token::new([0xff; 32]);
        assert_eq!(token.reveal().len(), PREFIX.len() + 43, "43 characters of 6 bits");
        assert!(!format!("{token:?}").contains("__"), "{token:?}");
        assert_eq!(Token::sent(token.reveal()).hash(), token.hash());
        assert_ne!(Token::new([0xfe; 32]).hash(), token.hash());
    }
}
