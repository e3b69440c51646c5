//! The wasm module that `boot.js` starts.

fn main() {
    app::mount();
}
