//! The wasm module that `boot.js` starts, and `planner.js` in a worker.

fn main() {
    if !app::shell::planner::serve() {
        app::mount();
    }
}
