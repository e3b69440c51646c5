//! Where the numbers of a card were read.

use shared_types::trade::kitchen::Batch;
use shared_types::trade::methods::{Acid, method};
use shared_types::trade::provenance::cite;

/// Where the numbers were read, those of one source in one line.
pub fn sources(batch: &Batch, acid: Option<&Acid>) -> Vec<String> {
    let mut read: Vec<(&str, String)> = Vec::new();
    if let Some(time) = &batch.process {
        read.push(("time", cited(&time.source, time.mark.words())));
    }
    if let Some(first) = acid.and_then(|acid| acid.choices.first()) {
        read.push(("acid", cited(&first.source, first.mark.words())));
    }
    if let Some(method) = method(&batch.method) {
        if let Some(inches) = method.headspace_inches.as_ref().filter(|_| batch.process.is_some()) {
            read.push(("headspace", cited(&inches.source, inches.mark.words())));
        }
        let steps = &method.steps_from;
        read.push(("steps", cited(&steps.source, steps.mark.words())));
    }
    let mut lines: Vec<(Vec<&str>, String)> = Vec::new();
    for (what, from) in read {
        match lines.iter_mut().find(|(_, other)| *other == from) {
            Some((all, _)) => all.push(what),
            None => lines.push((vec![what], from)),
        }
    }
    lines.into_iter().map(|(what, from)| format!("{}: {from}.", listed(&what))).collect()
}

fn cited(source: &str, mark: &str) -> String {
    format!("{} ({mark})", cite(source))
}

/// `Time, acid and headspace`.
fn listed(what: &[&str]) -> String {
    let joined = match what {
        [all @ .., last] if !all.is_empty() => format!("{} and {last}", all.join(", ")),
        _ => what.concat(),
    };
    let mut letters = joined.chars();
    letters.next().map(char::to_uppercase).into_iter().flatten().chain(letters).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_are_listed_as_a_sentence_begins() {
        assert_eq!(listed(&["time"]), "Time");
        assert_eq!(listed(&["time", "acid", "headspace"]), "Time, acid and headspace");
        assert_eq!(listed(&[]), "");
    }
}
