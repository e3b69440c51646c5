//! The rows of what a day, and the whole time, allows.

use super::model::Sense;
use super::problem::{Minutes, Way};
use super::shape::Shape;
use super::table::{NO_LIMIT, Table};
use super::write::kg;
use crate::trade::methods::Kind;

/// Adds every limit to the model.
pub(super) fn limits(shape: &mut Shape, table: &Table<'_>) {
    for day in 0..table.days {
        let caps = &table.caps[day];
        let hands = sum(shape, table, &|slot| {
            let (way, at) = (table.way(&table.slots[slot]), &table.slots[slot]);
            if at.day == day {
                Some(way.hands)
            } else if at.taken == day {
                way.evening
            } else {
                None
            }
        });
        shape.model.row(format!("hands_{day}"), hands, Sense::AtMost, caps.hands);
        if caps.burners < NO_LIMIT as f64 {
            let on = |slot: usize| (table.slots[slot].day == day).then_some(slot);
            let burners =
                sum(shape, table, &|slot| on(slot).map(|s| table.way(&table.slots[s]).burners));
            shape.model.row(format!("burners_{day}"), burners, Sense::AtMost, caps.burners);
        }
        let loads = (0..table.slots.len()).filter(|slot| table.slots[*slot].day == day);
        let loads = loads.filter_map(|slot| shape.n[slot]).map(|n| (n, 1.0)).collect();
        shape.model.row(format!("canner_{day}"), loads, Sense::AtMost, f64::from(caps.loads));
        for (kind, name, most) in
            [(Kind::Dry, "dryer", caps.dryer), (Kind::Freeze, "freezer", caps.freezer)]
        {
            if most < NO_LIMIT {
                let terms = fruit(shape, table, &|at, way| at == day && way.kind == kind, 1.0);
                shape.model.row(format!("{name}_{day}"), terms, Sense::AtMost, kg(most));
            }
        }
        for (m, way) in table.problem.methods.iter().enumerate() {
            let Some(most) = way.most_a_day_grams else { continue };
            let left = (most.0 - table.begun_on[m][day]).max(0);
            let terms = fruit(shape, table, &|at, one| at == day && one.id == way.id, 1.0);
            shape.model.row(format!("a_day_{m}_{day}"), terms, Sense::AtMost, kg(left));
        }
    }
    stock(shape, table);
}

/// Room in the freezer, jars and lids, over all the days.
fn stock(shape: &mut Shape, table: &Table<'_>) {
    if table.freezer_room < NO_LIMIT {
        let terms = fruit(shape, table, &|_, way| way.kind == Kind::Freeze, 1.0);
        shape.model.row("freezer_room".to_owned(), terms, Sense::AtMost, kg(table.freezer_room));
    }
    for (size, left) in &table.jars {
        let mut terms = Vec::new();
        for way in &table.problem.methods {
            if let Some(jar) = way.jar.filter(|jar| jar.size == *size) {
                let a_kg = 1000.0 / jar.grams;
                terms.extend(fruit(shape, table, &|_, one| one.id == way.id, a_kg));
            }
        }
        let name = format!("jars_{}", size.words().replace('-', "_"));
        shape.model.row(name, terms, Sense::AtMost, *left);
    }
    if let Some(left) = table.lids {
        let mut terms = Vec::new();
        for way in &table.problem.methods {
            if let Some(jar) = way.jar {
                let a_kg = 1000.0 / jar.grams;
                terms.extend(fruit(shape, table, &|_, one| one.id == way.id, a_kg));
            }
        }
        shape.model.row("lids".to_owned(), terms, Sense::AtMost, left);
    }
}

/// Minutes of the slots that spend any.
fn sum(
    shape: &Shape,
    table: &Table<'_>,
    minutes: &dyn Fn(usize) -> Option<Minutes>,
) -> Vec<(usize, f64)> {
    let mut terms = Vec::new();
    for slot in 0..table.slots.len() {
        let Some(minutes) = minutes(slot) else { continue };
        terms.extend(shape.x[slot].iter().map(|x| (*x, minutes.a_kg)));
        terms.extend(shape.y[slot].map(|y| (y, minutes.a_batch)));
        terms.extend(shape.n[slot].map(|n| (n, minutes.a_load)));
    }
    terms
}

/// Fruit in the slots of some days and methods.
fn fruit(
    shape: &Shape,
    table: &Table<'_>,
    wanted: &dyn Fn(usize, &Way) -> bool,
    factor: f64,
) -> Vec<(usize, f64)> {
    let slots = table.slots.iter().zip(&shape.x);
    let slots = slots.filter(|(slot, _)| wanted(slot.day, table.way(slot)));
    slots.flat_map(|(_, x)| x.iter().map(move |x| (*x, factor))).collect()
}
