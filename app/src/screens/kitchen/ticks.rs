//! What was ticked off on this phone. Only this phone knows; a new day begins with none.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use shared_types::units::Day;

use crate::shell::memory::{self, Span};

const NAME: &str = "lugbook.kitchen-ticks";

/// The steps ticked off, by their keys.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ticks {
    day: Day,
    steps: BTreeSet<String>,
}

impl Ticks {
    /// What was ticked off on `day`.
    pub fn of(day: Day) -> Self {
        let remembered: Option<Self> = memory::recall(Span::Lasting, NAME);
        remembered
            .filter(|ticks| ticks.day == day)
            .unwrap_or_else(|| Self { day, steps: BTreeSet::new() })
    }

    /// Whether a step is ticked off.
    pub fn has(&self, step: &str) -> bool {
        self.steps.contains(step)
    }

    /// Ticks a step off, or takes the tick away, and remembers it. A browser that keeps nothing
    /// forgets it with the page.
    pub fn set(&mut self, step: &str, ticked: bool) {
        if ticked {
            self.steps.insert(step.to_owned());
        } else {
            self.steps.remove(step);
        }
        memory::remember(Span::Lasting, NAME, self);
    }
}
