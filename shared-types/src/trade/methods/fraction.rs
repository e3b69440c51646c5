//! Numbers as cooks write them.

/// A count of spoons, cups or inches in whole ones and eighths: `1 3/4`, `1/8`, `3`.
pub fn fraction(amount: f64) -> String {
    let eighths = libm::round(amount * 8.0) as i64;
    let part = match eighths % 8 {
        0 => "",
        1 => "1/8",
        2 => "1/4",
        3 => "3/8",
        4 => "1/2",
        5 => "5/8",
        6 => "3/4",
        _ => "7/8",
    };
    match (eighths / 8, part) {
        (whole, "") => whole.to_string(),
        (0, part) => part.to_owned(),
        (whole, part) => format!("{whole} {part}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spoons_and_cups() {
        for (amount, words) in [
            (0.0, "0"),
            (0.125, "1/8"),
            (0.25, "1/4"),
            (0.5, "1/2"),
            (0.75, "3/4"),
            (1.0, "1"),
            (2.375, "2 3/8"),
            (16.875, "16 7/8"),
        ] {
            assert_eq!(fraction(amount), words);
        }
    }
}
