//! The trade's figures against their sources: each check names where its number was read and how
//! sure that reading is (V seen, V2 a reproduction seen, M memory, D derived).

mod acid;
mod case;
mod chances;
mod cold;
mod fit;
mod fitness;
mod offer;
mod plan;
mod process;
mod ripening;
mod ripening_monte;
mod ripening_truth;
mod stages;
mod stores;
mod sun;
mod units;
mod yields;
