//! One field that anyone may write: the latest stamp wins.

use serde::{Deserialize, Serialize};

use crate::hlc::{Hlc, Stamp};

/// A last-writer register. Empty until first written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Field<T>(Option<(T, Stamp)>);

impl<T> Default for Field<T> {
    fn default() -> Self {
        Self(None)
    }
}

impl<T> Field<T> {
    /// What stands there.
    pub fn get(&self) -> Option<&T> {
        self.0.as_ref().map(|(value, _)| value)
    }

    /// When it was last written, by the writer's clock.
    pub fn written(&self) -> Option<Hlc> {
        self.0.as_ref().map(|(_, stamp)| stamp.hlc)
    }

    /// Writes `value` unless a later writing stands there.
    pub fn write(&mut self, value: T, stamp: Stamp) {
        if self.0.as_ref().is_none_or(|(_, standing)| *standing < stamp) {
            self.0 = Some((value, stamp));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ids::DeviceId;
    use crate::units::Millis;

    #[test]
    fn the_latest_stamp_wins_in_either_order() {
        let stamp = |wall, device| Stamp {
            hlc: Hlc(Millis(wall), 0),
            device: DeviceId::new(Millis(0), [device; 10]),
        };
        let writings = [("a", stamp(1, 9)), ("b", stamp(2, 1)), ("c", stamp(2, 2))];
        for order in [[0, 1, 2], [2, 1, 0], [1, 2, 0]] {
            let mut field = Field::default();
            for i in order {
                field.write(writings[i].0, writings[i].1);
            }
            assert_eq!(field.get(), Some(&"c"), "{order:?}");
        }
    }
}
