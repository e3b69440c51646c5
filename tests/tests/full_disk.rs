//! The real server on a disk without room: a clear refusal, nothing lost, and it goes on by itself.

use std::path::Path;

use shared_types::wire::RefusalCode;
use tests::house::{House, free_port};
use tests::phone::Phone;

/// Bins of a push, and pushes until there is no room for one.
const BINS: u32 = 100;
const PUSHES: u32 = 50;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_full_disk_is_told_and_nothing_kept_is_lost() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let data = tempfile::tempdir().expect("a folder");
    let house = House::start_limited(program, data.path(), free_port()).await.expect("starts");
    let mut phones = [Phone::new(1, &house.url), Phone::new(2, &house.url)];
    for phone in &mut phones {
        phone.join(&house.code).await.expect("joins");
    }
    let [writer, reader] = &mut phones;
    writer.keep_bin(0, 1_000);
    assert!(writer.exchange().await && reader.exchange().await, "there is room yet");

    house.leave_room(Some(256 * 1024)).await.expect("can be limited");
    let mut pushes = 0;
    while writer.refused.is_empty() {
        assert!(pushes < PUSHES, "the limit is not felt");
        for bin in 0..BINS {
            writer.keep_bin(1 + pushes * BINS + bin, 9_400);
        }
        pushes += 1;
        assert!(writer.exchange().await, "the house answers, with room or without");
    }
    assert_eq!(writer.refused, [RefusalCode::StorageFailed]);
    assert!(writer.engine.status().unsent > 0, "the outbox is kept");
    let message = RefusalCode::StorageFailed.message();
    assert!(message.contains("disk full") && message.contains("bins stay on the phone"));

    // Whoever only reads is served as before.
    assert!(reader.exchange().await, "the house answers");
    assert!(reader.refused.is_empty(), "{:?}", reader.refused);

    house.leave_room(None).await.expect("can be freed");
    assert!(writer.exchange().await && reader.exchange().await, "and it goes on by itself");
    let kept = writer.kept.len();
    assert_eq!(writer.engine.status().unsent, 0);
    assert_eq!(kept, 1 + (pushes * BINS) as usize);
    assert_eq!(reader.engine.confirmed().bins.len(), kept);
    assert_eq!(reader.engine.confirmed(), writer.engine.confirmed());
}
