//! The one source of randomness.

/// `N` bytes from the operating system.
///
/// # Panics
/// When the operating system has none to give, which no program can mend.
pub fn bytes<const N: usize>() -> [u8; N] {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).expect("the operating system gives randomness");
    bytes
}
