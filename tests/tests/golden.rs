//! Frozen formats: the committed vectors, this program's vectors, and the wire's meaning of them.

#[path = "../../shared-types/examples/vectors/check.rs"]
mod check;

use tests::golden;

const ENTRIES: &str = include_str!("../golden/entries.txt");
const MESSAGES: &str = include_str!("../golden/messages.txt");

#[test]
fn this_program_writes_the_committed_vectors() {
    assert_eq!(golden::entries_text(), ENTRIES);
    assert_eq!(golden::messages_text(), MESSAGES);
}

#[test]
fn this_program_reads_them_and_writes_them_back() {
    let report = check::report();
    let differing: Vec<&str> = report.lines().filter(|line| line.starts_with("differs")).collect();
    assert!(differing.is_empty(), "{differing:#?}");
    assert!(report.lines().count() > 40, "{report}");
}

#[test]
fn every_kind_and_every_refusal_has_a_vector() {
    let kinds: Vec<String> = golden::entries().into_iter().map(|entry| entry.kind).collect();
    for kind in shared_types::entry::Fact::KINDS {
        assert!(kinds.iter().any(|k| k == kind), "no vector of `{kind}`");
    }
    let codes: std::collections::BTreeSet<String> = golden::refusals()
        .into_iter()
        .map(|code| serde_json::to_value(code).expect("plain data")["code"].to_string())
        .collect();
    assert_eq!(codes.len(), golden::refusals().len(), "two vectors of one code");
}
