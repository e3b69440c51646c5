//! What a canner load takes, in minutes, part by part.

use serde::{Deserialize, Serialize};

use super::Canner;
use super::canning::canning;

/// Minutes of one canner load, least and most of each part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LoadMinutes {
    /// From loading to a boil, to steam, or to venting.
    pub heat_up: [u32; 2],
    /// Venting before the weight goes on; none without pressure.
    pub vent: u32,
    /// From the weight going on to full pressure; none without pressure.
    pub rise: u32,
    /// The process itself.
    pub process: u32,
    /// Waiting with the lid off, or coming down from pressure.
    pub come_down: [u32; 2],
    /// All of it.
    pub total: [u32; 2],
}

/// One load of a canner that processes for so many minutes.
///
/// The guide's own figures: boiling water 20 to 30 to heat up and 5 to wait; pressure 12 to 15 to
/// heat, 10 to vent, 5 to rise, 20 to 60 to cool. Nothing is published for a steam canner's heating
/// up; it holds less water than a boiling-water canner, whose figures are taken.
pub fn load_minutes(canner: Canner, process: u32) -> LoadMinutes {
    let c = canning();
    let (heat_up, vent, rise, come_down) = match canner {
        Canner::BoilingWater | Canner::Steam => {
            (c.heat_up_minutes.value, 0, 0, [c.wait_minutes.value; 2])
        }
        Canner::Dial | Canner::Weighted => (
            c.pressure_heat_minutes.value,
            c.pressure_vent_minutes.value,
            c.pressure_rise_minutes.value,
            c.pressure_cool_minutes.value,
        ),
    };
    let total = [0, 1].map(|i| heat_up[i] + vent + rise + process + come_down[i]);
    LoadMinutes { heat_up, vent, rise, process, come_down, total }
}

/// How many loads so many jars are, when `jars_per_load` go in at once.
pub fn loads(jars: u32, jars_per_load: u32) -> u32 {
    jars.div_ceil(jars_per_load.max(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_add_up_to_the_printed_totals() {
        // D: 85 minutes of process are 110 to 120 in all. Guide 1 (V): pressure 55 to 100 with
        // process times of 8 to 10 minutes.
        assert_eq!(load_minutes(Canner::BoilingWater, 85).total, [110, 120]);
        assert_eq!(load_minutes(Canner::Dial, 8).total[0], 55);
        assert_eq!(load_minutes(Canner::Weighted, 10).total[1], 100);
        for canner in [Canner::BoilingWater, Canner::Steam, Canner::Dial, Canner::Weighted] {
            let m = load_minutes(canner, 35);
            for i in [0, 1] {
                let parts = m.heat_up[i] + m.vent + m.rise + m.process + m.come_down[i];
                assert_eq!(m.total[i], parts);
            }
        }
    }

    #[test]
    fn loads_are_whole() {
        for (jars, per_load, want) in [(0, 7, 0), (1, 7, 1), (7, 7, 1), (8, 7, 2), (9, 0, 9)] {
            assert_eq!(loads(jars, per_load), want, "{jars} by {per_load}");
        }
    }
}
