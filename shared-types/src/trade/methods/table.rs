//! All methods, and what can be asked of one.

use std::sync::LazyLock;

use super::{ClassId, CropId, Jar, Kind, Method, MethodId};
use crate::trade::fitness::Use;
use crate::trade::provenance::embedded;

impl Kind {
    /// The use a lot must be fit for; compost asks for none.
    pub const fn needs(self) -> Option<Use> {
        match self {
            Self::Jar => Some(Use::Jar),
            Self::Freeze => Some(Use::Freeze),
            Self::Dry => Some(Use::Dry),
            Self::Fresh => Some(Use::Fresh),
            Self::Feed => Some(Use::Feed),
            Self::Compost => None,
        }
    }
}

impl Method {
    /// Does it take this crop and class?
    pub fn takes(&self, crop: &CropId, class: &ClassId) -> bool {
        self.any
            || self.takes.iter().any(|takes| takes.crop == *crop && takes.classes.contains(class))
    }

    /// Hands-on minutes for so many kilograms: on the day, and the evening before.
    pub fn hands_on_minutes(&self, kg: f64) -> (f64, f64) {
        let sum = |evening: bool| {
            self.steps
                .iter()
                .filter(|step| step.evening_before == evening)
                .map(|step| step.setup_minutes + step.minutes_per_kg * kg)
                .sum()
        };
        (sum(false), sum(true))
    }

    /// May a plan choose it unasked? What must be wanted first says why in `by_name`.
    pub const fn planned(&self) -> bool {
        self.by_name.is_none()
    }

    /// Jar sizes its boiling-water times are printed for.
    pub fn jars(&self) -> impl Iterator<Item = Jar> {
        self.process.iter().map(|row| row.jar)
    }
}

static METHODS: LazyLock<Vec<Method>> = LazyLock::new(|| {
    // Every file of `data/methods`, as the build script found and checked it.
    let files = include!(concat!(env!("OUT_DIR"), "/methods.rs"));
    let mut methods: Vec<Method> =
        files.into_iter().map(|(name, text): (&str, &str)| embedded(name, text)).collect();
    methods.sort_by(|a, b| (a.kind, a.rank, &a.id).cmp(&(b.kind, b.rank, &b.id)));
    methods
});

/// All methods, jars first.
pub fn all() -> &'static [Method] {
    &METHODS
}

/// The method of that key.
pub fn method(id: &MethodId) -> Option<&'static Method> {
    METHODS.iter().find(|method| method.id == *id)
}

/// The methods of a kind that a plan may choose for this crop and class, best first.
pub fn methods_for(
    crop: &CropId,
    class: &ClassId,
    kind: Kind,
) -> impl Iterator<Item = &'static Method> {
    let mut found: Vec<_> = METHODS
        .iter()
        .filter(|method| method.kind == kind && method.planned() && method.takes(crop, class))
        .collect();
    found.sort_by_key(|method| (method.any, method.rank));
    found.into_iter()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::crops;
    use crate::trade::provenance::source;

    #[test]
    fn every_method_takes_known_crops_and_names_known_sources() {
        let ids: BTreeSet<_> = all().iter().map(|method| &method.id).collect();
        assert_eq!(ids.len(), all().len());
        for method in all() {
            for takes in &method.takes {
                for class in &takes.classes {
                    assert!(crops::class(&takes.crop, class).is_some(), "{} {class}", method.id);
                }
            }
            let mut named = vec![&method.times.source, &method.steps_from.source];
            named.extend(method.headspace_inches.iter().map(|h| &h.source));
            named.extend(method.process.iter().flat_map(|row| &row.minutes).map(|m| &m.source));
            named.extend(method.pressure.iter().map(|row| &row.source));
            named.extend(method.yields.iter().map(|row| &row.source));
            named.extend(method.ingredients.iter().map(|part| &part.source));
            named.extend(method.cautions.iter().map(|said| &said.source));
            for id in named {
                assert!(source(id).is_some(), "{}: no source {id}", method.id);
            }
        }
    }

    #[test]
    fn a_file_is_named_as_its_method() {
        for id in ["tomato-sauce-thin", "mixed-green-relish", "feed"] {
            assert_eq!(method(&id.into()).expect("a method").id, MethodId::from(id));
        }
    }

    #[test]
    fn every_class_of_every_crop_has_somewhere_to_go() {
        for crop in crops::all() {
            for class in &crop.classes {
                for kind in [Kind::Fresh, Kind::Feed, Kind::Compost] {
                    assert!(methods_for(&crop.slug, &class.id, kind).next().is_some());
                }
            }
        }
    }

    #[test]
    fn a_jar_method_says_its_headspace_and_how_it_is_made_safe() {
        for method in all().iter().filter(|method| method.kind == Kind::Jar) {
            assert!(method.headspace_inches.is_some(), "{}", method.id);
            assert!(!method.cautions.is_empty(), "{}", method.id);
            assert!(!method.yields.is_empty(), "{}", method.id);
            assert!(!(method.process.is_empty() && method.pressure.is_empty()), "{}", method.id);
        }
    }
}
