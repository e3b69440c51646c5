//! The payload of each kind.
//!
//! Two shapes recur. A `…-set` fact writes fields of a thing, each field a register of its own:
//! what is absent stays as it was, so two people changing different fields of one room both win.
//! Every other fact happens once and adds to what is known.
//!
//! Words such as a class or a defect are kept as written, known to this program or not.

macro_rules! fact {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ty,)* ? $($(#[$opt_doc:meta])* $opt:ident: $opt_kind:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
        pub struct $name {
            $($(#[$field_doc])* pub $field: $kind,)*
            $($(#[$opt_doc])* #[serde(default, skip_serializing_if = "Option::is_none")] pub $opt: Option<$opt_kind>,)*
        }
    };
}

mod bins;
mod cold;
mod kitchen;
mod lots;
mod nights;
mod readings;
mod rounds;
mod stores;
mod things;

pub use bins::*;
pub use cold::*;
pub use kitchen::*;
pub use lots::*;
pub use nights::*;
pub use readings::*;
pub use rounds::*;
pub use stores::*;
pub use things::*;
