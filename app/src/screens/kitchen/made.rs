//! "Made it": what went in, from which lots, and what came out.

use leptos::prelude::*;
use shared_types::book::Book;
use shared_types::entry::{BatchMade, JarsOut, LotPart};
use shared_types::ids::{BatchId, LotId, MethodId};
use shared_types::outlook::kitchen::{Work, jar_word, usual_jar};
use shared_types::outlook::pantry::{caution, lot_label};
use shared_types::trade::methods::{self, Jar, Kind, kg_per_jar, method};
use shared_types::trade::provenance::cite;
use shared_types::units::Grams;

use super::form::{Form, Made};
use crate::farm::use_farm;
use crate::parts::Field;
use crate::parts::select::Select;
use crate::typed;
use crate::words;

/// The size under which packs for the freezer and tins of dried fruit are counted.
pub const PACK: &str = "pack";

/// A lot that can go in, and how much of it does.
#[derive(Clone, Debug, PartialEq)]
struct LotLine {
    lot: LotId,
    label: String,
    left: Grams,
    planned: Grams,
}

/// The lots that can go in: those planned first, then what else its method takes.
fn lot_lines(book: &Book, of: Option<&MethodId>, planned: &[(LotId, Grams)]) -> Vec<LotLine> {
    let lots = book.lots();
    let line = |lot: &shared_types::book::lots::Lot, grams: Grams| LotLine {
        lot: lot.id,
        label: lot_label(book, lot),
        left: lot.left(),
        planned: grams.min(lot.left()),
    };
    let mut lines: Vec<LotLine> =
        planned.iter().filter_map(|(id, grams)| Some(line(lots.all.get(id)?, *grams))).collect();
    let takes = of.and_then(method);
    for lot in lots.standing() {
        let there = lines.iter().any(|line| line.lot == lot.id);
        // Colouring and green lots hold ripe fruit too; the crop decides here, and the person.
        let fits = takes.is_none_or(|method| {
            method.any || method.takes.iter().any(|takes| takes.crop == lot.crop)
        });
        if !there && fits {
            lines.push(line(lot, Grams::ZERO));
        }
    }
    lines
}

/// The form, of a planned batch or of one nobody planned.
#[allow(clippy::needless_pass_by_value, reason = "a component owns its properties")]
#[component]
pub fn MadeForm(
    /// The planned batch.
    work: Option<Work>,
    done: Callback<()>,
) -> impl IntoView {
    let farm = use_farm();
    let unit = untrack(|| farm.unit());
    let planned: Vec<(LotId, Grams)> = work.as_ref().map_or_else(Vec::new, |work| {
        let parts = work.batch.from.iter();
        parts.filter_map(|part| Some((part.lot.parse().ok()?, part.grams))).collect()
    });
    let id = work.as_ref().map_or_else(|| farm.fresh(BatchId::new), |work| work.id);
    let all = methods::all().iter();
    let options: Vec<(Option<MethodId>, String)> =
        all.map(|method| (Some(method.id.clone()), method.name.clone())).collect();
    let first = work.as_ref().map(|work| work.batch.method.clone());
    let chosen = RwSignal::new(first.or_else(|| options.first().and_then(|(id, _)| id.clone())));
    let fixed = work.is_some();
    let kind = move || chosen.with(|id| id.as_ref().and_then(method).map(|method| method.kind));
    let lines = Memo::new({
        let planned = planned.clone();
        move |_| {
            let of = chosen.get();
            farm.book.with(|book| lot_lines(book, of.as_ref(), &planned))
        }
    });
    // One text for each lot, made when its line first shows. Counted references: the lines are drawn
    // anew whenever the book changes, and what was typed must outlive that.
    let amounts = StoredValue::new(Vec::<(LotId, ArcRwSignal<String>)>::new());
    let amount_of = move |line: &LotLine| {
        let found = amounts.with_value(|all| all.iter().find(|(lot, _)| *lot == line.lot).cloned());
        found.map_or_else(
            || {
                let text = if line.planned > Grams::ZERO {
                    words::exact(line.planned, unit)
                } else {
                    String::new()
                };
                let signal = ArcRwSignal::new(text);
                amounts.update_value(|all| all.push((line.lot, signal.clone())));
                signal
            },
            |(_, signal)| signal,
        )
    };
    let book = farm.book.get_untracked();
    let jars = work.as_ref().and_then(|work| work.batch.jars);
    let size = RwSignal::new(jars.map_or_else(|| usual_jar(&book), |jars| jars.jar));
    let count = RwSignal::new(jars.map_or_else(String::new, |jars| jars.count.to_string()));
    let (place, note) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let keeps = move || matches!(kind(), Some(Kind::Jar | Kind::Freeze | Kind::Dry));
    let parts = move || -> Result<Vec<LotPart>, String> {
        let mut parts = Vec::new();
        for line in lines.get_untracked() {
            let text = amount_of(&line).get_untracked();
            match typed::weight(&text, unit)? {
                Some(grams) if grams > Grams::ZERO => {
                    parts.push(LotPart { lot: line.lot, grams });
                }
                _ => {}
            }
        }
        Ok(parts)
    };
    let make = Box::new(move || -> Made {
        let Some(id_of_method) = chosen.get_untracked() else {
            return Err("Choose what was made.".to_owned());
        };
        let Some(method) = method(&id_of_method) else {
            return Err("This program does not know that method.".to_owned());
        };
        let used = parts()?;
        if used.is_empty() {
            return Err("Type what went in, at least of one lot.".to_owned());
        }
        let out = if untrack(keeps) {
            let jar = match method.kind {
                Kind::Jar => jar_word(size.get_untracked()),
                _ => PACK.to_owned(),
            };
            match typed::whole(&count.get_untracked())? {
                Some(count) if count > 0 => vec![JarsOut { jar, count }],
                _ => return Err("Type how many came out.".to_owned()),
            }
        } else {
            Vec::new()
        };
        let words = |text: RwSignal<String>| {
            let text = text.get_untracked().trim().to_owned();
            (!text.is_empty()).then_some(text)
        };
        Ok(vec![
            BatchMade {
                batch: id,
                at: farm.now(),
                person: farm.person(),
                method: id_of_method,
                what: what(method.kind).to_owned(),
                used,
                out,
                place: words(place),
                note: words(note),
            }
            .into(),
        ])
    });
    let unfit = move || {
        let kind = kind()?;
        farm.book.with(|book| {
            let lots = book.lots();
            lines.get().iter().find_map(|line| {
                let typed = amount_of(line).get();
                let some = typed::weight(&typed, unit).ok().flatten().is_some_and(|g| g.0 > 0);
                some.then(|| lots.all.get(&line.lot)).flatten().and_then(|lot| caution(kind, lot))
            })
        })
    };
    let usual = move || {
        // What so much fruit usually gives, to compare with what was counted.
        let method = chosen.get().as_ref().and_then(method)?;
        let per = kg_per_jar(method, size.get()).filter(|_| method.kind == Kind::Jar)?;
        let grams: Grams = lines
            .get()
            .iter()
            .filter_map(|line| typed::weight(&amount_of(line).get(), unit).ok().flatten())
            .sum();
        let jars = |kg: f64| (grams.kg() / kg).floor().max(0.0) as u32;
        (grams > Grams::ZERO).then(|| {
            format!(
                "{} usually gives {} to {} {}s",
                words::weight(grams, unit),
                jars(per.most),
                jars(per.least).max(jars(per.most)),
                size.get().words()
            )
        })
    };
    let rows = move || {
        let row = |line: LotLine| {
            let label = format!("{}, {}", line.label, unit.symbol());
            let hint = format!("{} there", words::weight(line.left, unit));
            let value = RwSignal::from(amount_of(&line));
            view! { <Field label value hint inputmode="decimal" /> }
        };
        lines.get().into_iter().map(row).collect_view()
    };
    view! {
        <Form make done button="Keep what was made">
            {(!fixed)
                .then(|| {
                    view! {
                        <Select
                            id="made-method"
                            label="What was made"
                            options
                            chosen=chosen
                            on_choose=move |id| chosen.set(id)
                        />
                    }
                })}
            <h3>"Went in"</h3>
            {rows}
            {move || {
                unfit()
                    .map(|said| {
                        view! {
                            <div class="note warn" role="status">
                                <p>
                                    <strong>"Not safe by any published guidance. "</strong>
                                    {said.text.clone()}
                                </p>
                                <p class="source">{cite(&said.source)}</p>
                                <p>"It can be recorded; the label will say so. Freeze it, dry it, or eat it now instead."</p>
                            </div>
                        }
                    })
            }}
            {move || {
                keeps()
                    .then(|| {
                        let jarred = kind() == Some(Kind::Jar);
                        let options: Vec<(Jar, String)> = Jar::ALL
                            .into_iter()
                            .map(|jar| (jar, jar.words().to_owned()))
                            .collect();
                        view! {
                            <h3>"Came out"</h3>
                            {jarred
                                .then(|| {
                                    view! {
                                        <Select
                                            id="made-jar"
                                            label="Jar"
                                            options
                                            chosen=size
                                            on_choose=move |jar| size.set(jar)
                                        />
                                    }
                                })}
                            <Field
                                label=if jarred { "How many jars" } else { "How many packs" }
                                value=count
                                inputmode="numeric"
                            />
                            <p class="hint">{usual}</p>
                            <Field label="Where it stands" value=place hint="Can be left out." />
                            <Field label="Remark for the label" value=note hint="Can be left out." />
                        }
                    })
            }}
        </Form>
    }
}

/// What a batch counts as in its lots.
const fn what(kind: Kind) -> &'static str {
    match kind {
        Kind::Jar => "jar",
        Kind::Freeze => "freeze",
        Kind::Dry => "dry",
        Kind::Fresh => "fresh",
        Kind::Feed => "feed",
        Kind::Compost => "compost",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::writer;

    #[test]
    fn planned_lots_come_first_and_none_is_offered_beyond_what_is_there() {
        let mut w = writer();
        w.bin(1, 3, "ripe", 4_000);
        w.bin(2, 5, "ripe", 9_000);
        let lots = w.book.lots();
        let lot = lots.all.values().find(|lot| lot.came == Grams(4_000)).expect("bed 3").id;
        let lines = lot_lines(&w.book, Some(&"tomato-juice".into()), &[(lot, Grams(9_999))]);
        assert_eq!((lines[0].lot, lines[0].planned), (lot, Grams(4_000)));
        assert_eq!((lines.len(), lines[1].planned), (2, Grams::ZERO));
        assert!(lot_lines(&w.book, Some(&"kale-frozen".into()), &[]).is_empty());
    }
}
