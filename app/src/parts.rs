//! Dumb components: they show what they are given and report presses. Their class names are those
//! of `public/style.css`.

mod banners;
pub mod chart;
mod controls;
pub mod export;
mod field;
mod list;
mod mark;
mod screen;
pub mod select;
mod send;
mod sheet;
mod show;

pub use controls::{Empty, Problem, Segmented, Toggle};
pub use field::Field;
pub use list::Row;
pub use mark::{Mark, class_mark, class_tone};
pub use screen::Screen;
pub use sheet::{Choice, Sheet};
pub use show::Show;
