//! The keys of the keypad, and of a keyboard that does the same.

/// One key of the keypad.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// 0 to 9.
    Digit(u8),
    /// The decimal point.
    Point,
    /// Takes the last one away.
    Back,
}

impl Key {
    /// The key of a physical keyboard, if it is one of these.
    pub fn of_keyboard(key: &str) -> Option<Self> {
        match key {
            "." | "," => Some(Self::Point),
            "Backspace" => Some(Self::Back),
            _ => match key.as_bytes() {
                [digit @ b'0'..=b'9'] => Some(Self::Digit(digit - b'0')),
                _ => None,
            },
        }
    }
}
