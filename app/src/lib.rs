//! Lugbook on the phone: screens, and the browser's effects behind them.
//!
//! ```text
//! words, typed, screens::pick::form   pure: text out, text in, what is being typed
//! shell                          the browser's effects, one file each
//! driver  (uses shell)           the engine's events in, its actions carried out
//! farm    (uses driver)          what screens work with: the book as signals, and `keep`
//! parts                          dumb components
//! screens (use farm and parts)   one module each
//! ```

pub mod csv;
pub mod driver;
pub mod farm;
pub mod order;
pub mod parts;
mod root;
pub mod screens;
pub mod shell;
pub mod typed;
pub mod words;

/// Mounts the program into the page's `<body>`.
pub fn mount() {
    shell::panic::explain();
    shell::theme::show(shell::theme::chosen());
    leptos::mount::mount_to_body(root::Root);
}
