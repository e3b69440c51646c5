//! The browser's effects, one file each. A failure comes back as a value or an event and is never
//! dropped.

pub mod clock;
pub mod http;
pub mod idb;
pub mod js;
pub mod live;
pub mod locks;
pub mod memory;
pub mod panic;
pub mod persist;
pub mod planner;
pub mod random;
pub mod save;
pub mod tabs;
pub mod theme;
pub mod vibrate;
pub mod wake_lock;
pub mod worker;
