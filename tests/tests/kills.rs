//! `kill -9` of the real server under load; `soak --kills` does it more often.

use std::path::Path;

const KILLS: u32 = 25;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn kills_lose_nothing_that_was_acknowledged() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let seen = tests::kills::kill_under_load(program, KILLS).await.expect("nothing is lost");
    let few = seen.lost_calls;
    assert!(few > KILLS / 2, "only {few} calls met a kill; the moments are wrong");
}
