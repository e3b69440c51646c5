//! How devices come in.

/// How devices come in. What both sides must agree on (how long a code lives, how many wrong
/// tries) is in [`shared_types::wire::limits`].
#[derive(Clone, Debug)]
pub struct JoinConfig {
    /// Devices one code lets in: a picking party can share the one on the screen.
    pub code_uses: u32,
}

impl Default for JoinConfig {
    fn default() -> Self {
        Self { code_uses: 8 }
    }
}
