//! Cases of the simulation that once broke a law, as small as they could be made. Each names what
//! used to happen. `soak` and the quick run print new ones ready to be put here.

mod earlier_id;
