use shared_types::book::Book;
use shared_types::ids::EpochId;

use super::*;
use crate::config::DataConfig;
use crate::demo;
use crate::store::{fill, open_existing};

/// A Friday in October, noon UTC.
const NOW: Millis = Millis(1_791_547_200_000);

fn folder(write: impl FnOnce(&Connection) -> Result<(), Error>) -> (tempfile::TempDir, Connection) {
    let dir = tempfile::tempdir().unwrap();
    let config = DataConfig { dir: dir.path().to_owned(), ..DataConfig::default() };
    let epoch = EpochId::new(NOW, [1; 10]);
    fill(&config, epoch, write).unwrap();
    let conn = open_existing(&config, epoch).unwrap();
    (dir, conn)
}

fn book(conn: &Connection) -> Book {
    let mut book = Book::default();
    log::after(conn, 0, |row| -> Result<bool, rusqlite::Error> {
        book.fold(&row.to_entry()?);
        Ok(true)
    })
    .unwrap();
    book
}

fn demo_lines() -> (Book, Vec<u8>) {
    let (_dir, conn) = folder(|conn| demo::write(conn, &demo::story(NOW, 0), NOW));
    let mut text = Vec::new();
    let count = write(&conn, &mut text).unwrap();
    assert_eq!(text.iter().filter(|byte| **byte == b'\n').count() as u64, count);
    (book(&conn), text)
}

#[test]
fn what_leaves_comes_back_to_an_equal_book_and_twice_changes_nothing() {
    let (before, text) = demo_lines();
    let (_dir, mut conn) = folder(|_| Ok(()));
    let first = {
        let tx = conn.transaction().unwrap();
        let taken = read(&tx, text.as_slice(), NOW).unwrap();
        tx.commit().unwrap();
        taken
    };
    assert_eq!(first.lines, first.new);
    assert!(first.lines > 100, "{first:?}");
    assert_eq!(book(&conn), before);
    let again = read(&conn, text.as_slice(), NOW).unwrap();
    assert_eq!((again.lines, again.new), (first.lines, 0));
    let mut once_more = Vec::new();
    write(&conn, &mut once_more).unwrap();
    assert_eq!(once_more, text);
}

#[test]
fn a_bad_line_is_named() {
    let (_, text) = demo_lines();
    let (_dir, mut conn) = folder(|_| Ok(()));
    // Each in a transaction that is let go, as the contract asks after an error.
    let mut error_of = |lines: &[&[u8]]| {
        let tx = conn.transaction().unwrap();
        read(&tx, lines.join(&b'\n').as_slice(), NOW).unwrap_err().to_string()
    };
    let mut lines: Vec<&[u8]> = text.split(|byte| *byte == b'\n').collect();
    lines[3] = b"{\"device\":\"not one\"}";
    let error = error_of(&lines);
    assert!(error.starts_with("line 4 is not an entry"), "{error}");
    let mut lines: Vec<&[u8]> = text.split(|byte| *byte == b'\n').collect();
    lines.remove(0);
    let error = error_of(&lines);
    assert!(error.contains("does not fit the log"), "{error}");
}
