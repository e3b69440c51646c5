//! What is missing for the planned batches.

use std::collections::BTreeMap;

use super::stock::{self, LEMON_JUICE, LID, VINEGAR};
use super::work::{Work, works};
use crate::book::Book;
use crate::trade::methods::{Jar, Kind, Unit, acid_for, method};
use crate::units::{KG_PER_LB, Measure};

/// Grams of a millilitre of granulated sugar: 200 g to the cup, common practice. Only for shopping.
const SUGAR_DENSITY: f64 = 0.85;
/// Grams of a millilitre of canning salt: 290 g to the cup, common practice. Only for shopping.
const SALT_DENSITY: f64 = 1.22;

/// One line of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// What it is, for people.
    pub name: String,
    /// The cupboard's key for it, where it is counted.
    pub item: Option<String>,
    /// In what it is counted.
    pub unit: Measured,
    /// How much the planned batches take, rounded up.
    pub need: i64,
    /// How much there is, if anyone counted.
    pub have: Option<i64>,
}

impl Item {
    /// How much is missing; all of it while nobody has counted.
    pub fn missing(&self) -> i64 {
        (self.need - self.have.unwrap_or(0).max(0)).max(0)
    }
}

/// In what something is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measured {
    /// Pieces.
    Pieces,
    /// Millilitres.
    Millilitres,
    /// Grams.
    Grams,
}

/// What the planned batches take that does not grow, in the order jars, lids, acid, the rest by
/// name. What is there in full is listed too, with nothing missing.
pub fn shopping(book: &Book) -> Vec<Item> {
    let works = works(book);
    let mut items = jars(book, &works);
    let mut parts: BTreeMap<(String, Option<&str>, Measured), f64> = BTreeMap::new();
    for work in &works {
        acid(work, &mut parts);
        ingredients(work, &mut parts);
    }
    let line = |((name, item, unit), need): ((String, Option<&str>, Measured), f64)| Item {
        name,
        item: item.map(str::to_owned),
        unit,
        need: libm::ceil(need - 1e-6) as i64,
        have: item.and_then(|item| stock::now(book, item)),
    };
    let mut rest: Vec<Item> = parts.into_iter().map(line).collect();
    let order = |item: &Item| match item.item.as_deref() {
        Some(VINEGAR) => 0,
        Some(LEMON_JUICE) => 1,
        Some(_) => 2,
        None => 3,
    };
    rest.sort_by_key(|item| (order(item), item.name.clone()));
    items.extend(rest);
    items
}

fn jars(book: &Book, works: &[Work]) -> Vec<Item> {
    let mut sizes: BTreeMap<Jar, i64> = BTreeMap::new();
    for jars in works.iter().filter_map(|work| work.batch.jars) {
        *sizes.entry(jars.jar).or_default() += i64::from(jars.count);
    }
    let lids: i64 = sizes.values().sum();
    let piece = |name: String, item: String, need: i64| Item {
        have: stock::now(book, &item),
        name,
        item: Some(item),
        unit: Measured::Pieces,
        need,
    };
    let mut items: Vec<Item> = sizes
        .into_iter()
        .map(|(jar, need)| piece(format!("{} jars", jar.words()), stock::jar_item(jar), need))
        .collect();
    if lids > 0 {
        items.push(piece("new lids".to_owned(), LID.to_owned(), lids));
    }
    items
}

/// The first way to acidify each jar.
fn acid(work: &Work, parts: &mut BTreeMap<(String, Option<&'static str>, Measured), f64>) {
    let (Some(jars), Some(method)) = (work.batch.jars, method(&work.batch.method)) else { return };
    let Ok(Some(acid)) = acid_for(method, jars.jar) else { return };
    let Some(first) = acid.choices.first() else { return };
    let need = first.amount * first.unit.millilitres() * f64::from(jars.count);
    let (name, item) = known(&first.what);
    *parts.entry((name, item, Measured::Millilitres)).or_default() += need;
}

fn ingredients(work: &Work, parts: &mut BTreeMap<(String, Option<&'static str>, Measured), f64>) {
    let Some(method) = method(&work.batch.method) else { return };
    let Some(base) = method.base.as_ref().filter(|base| base.kg > 0.0) else { return };
    if method.kind != Kind::Jar {
        return;
    }
    let factor = work.batch.grams.kg() / base.kg;
    for part in &method.ingredients {
        let amount = part.amount * factor;
        let (name, item) = known(&part.name);
        let (unit, need) = match (part.unit, item) {
            (Unit::Measure(measure), Some(stock::SUGAR)) => {
                (Measured::Grams, millilitres(amount, measure) * SUGAR_DENSITY)
            }
            (Unit::Measure(measure), Some(stock::SALT)) => {
                (Measured::Grams, millilitres(amount, measure) * SALT_DENSITY)
            }
            (Unit::Measure(measure), _) => (Measured::Millilitres, millilitres(amount, measure)),
            (Unit::Lb, _) => (Measured::Grams, amount * KG_PER_LB * 1000.0),
            (_, _) => (Measured::Pieces, amount),
        };
        *parts.entry((name, item, unit)).or_default() += need;
    }
}

fn millilitres(amount: f64, measure: Measure) -> f64 {
    amount * measure.millilitres()
}

/// What the cupboard calls an ingredient, and what people do.
fn known(name: &str) -> (String, Option<&'static str>) {
    let lower = name.to_lowercase();
    let item = if lower.contains("vinegar") {
        Some(VINEGAR)
    } else if lower.contains("lemon juice") {
        Some(LEMON_JUICE)
    } else if lower.contains("sugar") {
        Some(stock::SUGAR)
    } else if lower.contains("salt") {
        Some(stock::SALT)
    } else {
        None
    };
    (name.to_owned(), item)
}
