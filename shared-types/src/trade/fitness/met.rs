//! A question as the rules meet it, and each condition of a rule in words.

use super::decision::Condition;
use super::table::{Asked, Fruit, Ripened, Rule, Vines};
use crate::ids::{ClassId, CropId};
use crate::trade::crops::{self, Defect, Group};

/// A question with what follows from it: the crop's group, and vines and fruit as they are taken.
pub(super) struct Met<'a> {
    asked: &'a Asked,
    group: Option<Group>,
    /// Unknown vines are taken as alive while no killing cold has been seen.
    pub(super) vines: Vines,
    /// Unknown fruit is taken as sound while no killing cold has been seen.
    pub(super) fruit: Fruit,
}

impl<'a> Met<'a> {
    pub(super) fn of(asked: &'a Asked) -> Self {
        let vines = match asked.vines {
            Vines::Unknown if !asked.cold_seen => Vines::Alive,
            known => known,
        };
        let fruit = match asked.fruit {
            Fruit::Unknown if !asked.cold_seen => Fruit::Sound,
            known => known,
        };
        Self { asked, group: crops::crop(&asked.crop).map(|crop| crop.group), vines, fruit }
    }

    /// Every list of the rule that is given holds the question's value.
    pub(super) fn matches(&self, rule: &Rule) -> bool {
        let asked = self.asked;
        holds(rule.groups.as_ref(), self.group.as_ref())
            && holds(rule.crops.as_ref(), Some(&asked.crop))
            && holds(rule.classes.as_ref(), Some(&asked.class))
            && holds(rule.vines.as_ref(), Some(&self.vines))
            && holds(rule.fruit.as_ref(), Some(&self.fruit))
            && holds(rule.ripened.as_ref(), Some(&asked.ripened))
            && holds(rule.defects.as_ref(), asked.defect.as_ref())
    }

    /// The rule's conditions, each with what was found; none for a rule that takes everything.
    pub(super) fn conditions(&self, rule: &Rule) -> Vec<Condition> {
        let asked = self.asked;
        let all = [
            condition("kind of crop", rule.groups.as_ref(), self.group.as_ref(), group_words),
            condition("crop", rule.crops.as_ref(), Some(&asked.crop), CropId::to_string),
            condition("class", rule.classes.as_ref(), Some(&asked.class), ClassId::to_string),
            condition("vines at picking", rule.vines.as_ref(), Some(&self.vines), vines_words),
            condition("fruit after thaw", rule.fruit.as_ref(), Some(&self.fruit), fruit_words),
            condition("ripened", rule.ripened.as_ref(), Some(&asked.ripened), ripened_words),
            condition("defect", rule.defects.as_ref(), asked.defect.as_ref(), defect_words),
        ];
        all.into_iter().flatten().collect()
    }
}

fn holds<T: PartialEq>(list: Option<&Vec<T>>, value: Option<&T>) -> bool {
    list.is_none_or(|list| value.is_some_and(|value| list.contains(value)))
}

fn condition<T: PartialEq>(
    what: &str,
    wanted: Option<&Vec<T>>,
    found: Option<&T>,
    words: impl Fn(&T) -> String,
) -> Option<Condition> {
    let list = wanted?;
    Some(Condition {
        what: what.to_owned(),
        wanted: list.iter().map(&words).collect(),
        found: found.map_or_else(|| "none".to_owned(), &words),
        holds: holds(wanted, found),
    })
}

fn group_words(group: &Group) -> String {
    match group {
        Group::VineFruit => "fruit of a tender vine",
        Group::Squash => "squash",
        Group::Root => "root or bulb",
        Group::Leaf => "leaf",
    }
    .to_owned()
}

/// How the vines stood, in words.
pub(super) fn vines_words(vines: &Vines) -> String {
    match vines {
        Vines::Alive => "alive",
        Vines::Hurt => "hurt but alive",
        Vines::Dead => "dead",
        Vines::Unknown => "unknown",
    }
    .to_owned()
}

/// How the fruit looked, in words.
pub(super) fn fruit_words(fruit: &Fruit) -> String {
    match fruit {
        Fruit::Sound => "sound",
        Fruit::Frozen => "frozen",
        Fruit::Unknown => "unknown",
    }
    .to_owned()
}

fn ripened_words(ripened: &Ripened) -> String {
    match ripened {
        Ripened::OnVine => "on the vine",
        Ripened::Indoors => "indoors",
        Ripened::Unknown => "unknown",
    }
    .to_owned()
}

fn defect_words(defect: &Defect) -> String {
    defect.words().to_owned()
}
