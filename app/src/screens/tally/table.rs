//! What the tally shows: totals of the book as lines with bars, and the same as a table.

use shared_types::book::Book;
use shared_types::book::totals::{By, Totals};
use shared_types::ids::{ClassId, CropId, PickId};
use shared_types::trade::crops;
use shared_types::units::{Day, Grams, WeightUnit};

use crate::csv::{Cell, document};
use crate::words;

/// Which bins are added up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scope {
    /// Those of one pick.
    Pick(PickId),
    /// All.
    Season,
}

/// A table of totals in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What the lines are.
    pub by: By,
    /// What the columns are.
    pub across: Option<By>,
    /// The columns; empty when split once.
    pub columns: Vec<Column>,
    /// The lines, in the order they are read.
    pub lines: Vec<Line>,
    /// Everything.
    pub total: Grams,
    /// How many bins.
    pub bins: usize,
}

/// One column of a table split twice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name.
    pub label: String,
    /// The class it stands for, when columns are classes.
    pub class: Option<ClassId>,
    /// What it comes to.
    pub total: Grams,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its name.
    pub label: String,
    /// The class it stands for, when lines are classes.
    pub class: Option<ClassId>,
    /// By column.
    pub cells: Vec<Grams>,
    /// The whole line.
    pub total: Grams,
    /// How many bins.
    pub bins: usize,
}

impl Table {
    /// Percent that `part` is of the heaviest line: the length of its bar.
    pub fn bar(&self, part: Grams) -> f64 {
        let most = self.lines.iter().map(|line| line.total).max().unwrap_or_default();
        percent(part, most)
    }

    /// Percent that `part` is of everything.
    pub fn share(&self, part: Grams) -> f64 {
        percent(part, self.total)
    }
}

fn percent(part: Grams, whole: Grams) -> f64 {
    if whole.0 <= 0 { 0.0 } else { 100.0 * part.0 as f64 / whole.0 as f64 }
}

/// The totals of `scope`, split by one or two.
///
/// Classes stand in the order of the crop table, as on Pick; days from the latest back; everything
/// else heaviest first.
pub fn table(book: &Book, scope: Scope, by: By, across: Option<By>) -> Table {
    let pick = match scope {
        Scope::Pick(pick) => Some(pick),
        Scope::Season => None,
    };
    let across = across.filter(|across| *across != by);
    let Totals { mut rows, columns, total, bins, .. } = book.totals(pick, by, across);
    if matches!(by, By::Class | By::Day) {
        rows.sort_by_key(|row| rank(by, &row.label));
    }
    let mut order: Vec<usize> = (0..columns.len()).collect();
    if let Some(across) = across {
        order.sort_by_key(|i| (rank(across, &columns[*i]), *i));
    }
    Table {
        by,
        across,
        columns: order
            .iter()
            .map(|i| Column {
                label: label(across.unwrap_or(by), &columns[*i]),
                class: class(across.unwrap_or(by), &columns[*i]),
                total: rows.iter().map(|row| row.cells[*i]).sum(),
            })
            .collect(),
        lines: rows
            .iter()
            .map(|row| Line {
                label: label(by, &row.label),
                class: class(by, &row.label),
                cells: order.iter().filter_map(|i| row.cells.get(*i).copied()).collect(),
                total: row.total,
                bins: row.bins,
            })
            .collect(),
        total,
        bins,
    }
}

/// Where a class or a day stands among its like; everything else keeps its order.
fn rank(by: By, label: &str) -> i32 {
    match by {
        By::Class => {
            let place = |crop: &crops::Crop| {
                crop.classes.iter().position(|class| class.id.as_str() == label)
            };
            let place = crops::all().iter().find_map(place);
            place.and_then(|place| i32::try_from(place).ok()).unwrap_or(i32::MAX)
        }
        By::Day => label.parse::<Day>().map_or(i32::MAX, |day| -day.number()),
        _ => 0,
    }
}

fn class(by: By, label: &str) -> Option<ClassId> {
    (by == By::Class).then(|| ClassId::from(label))
}

/// A crop, class or day as people say it; names are already theirs.
fn label(by: By, label: &str) -> String {
    match by {
        By::Crop => words::crop_name(&CropId::from(label)),
        By::Class => class_words(&ClassId::from(label)),
        By::Day => label.parse().map_or_else(|_| label.to_owned(), words::day),
        By::Pick => match label.split_once(' ') {
            Some((day, name)) => day
                .parse()
                .map_or_else(|_| label.to_owned(), |day| format!("{name}, {}", words::day(day))),
            None => label.to_owned(),
        },
        By::Variety | By::Place | By::Picker => label.to_owned(),
    }
}

/// A class's name, whichever crop it is of: crops that share a class share its name.
pub fn class_words(class: &ClassId) -> String {
    crop_with(class).map_or_else(|| class.to_string(), |crop| words::class_name(&crop, class))
}

/// A crop that is sorted into `class`, for drawing its mark.
pub fn crop_with(class: &ClassId) -> Option<CropId> {
    crops::all().iter().find(|crop| crop.class(class).is_some()).map(|crop| crop.slug.clone())
}

/// The table as comma-separated text, weights to the thousandth.
pub fn csv(table: &Table, unit: WeightUnit) -> String {
    let symbol = unit.symbol();
    let mut header = vec![table.by.word().to_owned()];
    header.extend(table.columns.iter().map(|column| format!("{} {symbol}", column.label)));
    header.extend([format!("total {symbol}"), "bins".to_owned()]);
    let weight = |grams: &Grams| Cell::weight(*grams, unit);
    let row = |name: &str, cells: &[Grams], total: Grams, bins: usize| {
        let mut row = vec![Cell::text(name)];
        row.extend(cells.iter().map(weight));
        row.extend([weight(&total), Cell::Number(bins.to_string())]);
        row
    };
    let mut rows: Vec<Vec<Cell>> = table
        .lines
        .iter()
        .map(|line| row(&line.label, &line.cells, line.total, line.bins))
        .collect();
    let sums: Vec<Grams> = table.columns.iter().map(|column| column.total).collect();
    rows.push(row("total", &sums, table.total, table.bins));
    document(&header, &rows)
}

/// The picks that can be chosen, latest first, each with what to call it.
pub fn picks(book: &Book) -> Vec<(PickId, String)> {
    let mut picks: Vec<_> =
        book.picks.iter().map(|(id, pick)| (pick.day.get().copied(), *id)).collect();
    picks.sort_by(|a, b| b.cmp(a));
    picks
        .into_iter()
        .map(|(day, id)| {
            let name = book.pick_name(id);
            (id, day.map_or_else(|| name.to_owned(), |d| format!("{name}, {}", words::day(d))))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::{Writer, named, writer};

    const KG: WeightUnit = WeightUnit::Kg;

    fn picked() -> Writer {
        let mut w = writer();
        for (n, place, class, grams) in [
            (1, 3, "green", 12_000),
            (2, 3, "ripe", 4_000),
            (3, 5, "colouring", 2_500),
            (4, 3, "colouring", 1_500),
        ] {
            w.bin(n, place, class, grams);
        }
        w
    }

    fn labels(table: &Table) -> Vec<&str> {
        table.lines.iter().map(|line| line.label.as_str()).collect()
    }

    #[test]
    fn classes_stand_as_on_pick_and_places_heaviest_first() {
        let book = picked().book;
        let by_class = table(&book, Scope::Season, By::Class, None);
        assert_eq!(labels(&by_class), ["Ripe", "Colouring", "Green"]);
        assert_eq!((by_class.total, by_class.bins), (Grams(20_000), 4));
        assert!((by_class.bar(Grams(12_000)) - 100.0).abs() < 1e-9);
        assert!((by_class.share(Grams(4_000)) - 20.0).abs() < 1e-9);
        let by_place = table(&book, Scope::Season, By::Place, Some(By::Class));
        assert_eq!(labels(&by_place), ["bed 3", "bed 5"]);
        let columns: Vec<_> =
            by_place.columns.iter().map(|c| (c.label.as_str(), c.total.0)).collect();
        assert_eq!(columns, [("Ripe", 4_000), ("Colouring", 4_000), ("Green", 12_000)]);
        assert_eq!(by_place.lines[1].cells, [Grams(0), Grams(2_500), Grams(0)]);
    }

    #[test]
    fn lines_columns_and_the_whole_agree() {
        let book = picked().book;
        let all = [By::Class, By::Crop, By::Variety, By::Place, By::Picker, By::Day];
        for by in all {
            for across in all.map(Some).into_iter().chain([None]) {
                let table = table(&book, Scope::Pick(named(PickId::new, 1)), by, across);
                let lines: Grams = table.lines.iter().map(|line| line.total).sum();
                assert_eq!(lines, table.total, "{by:?} {across:?}");
                if table.across.is_some() {
                    let columns: Grams = table.columns.iter().map(|column| column.total).sum();
                    assert_eq!(columns, table.total, "{by:?} {across:?}");
                } else {
                    assert!(table.columns.is_empty(), "{by:?} {across:?}");
                }
            }
        }
    }

    #[test]
    fn another_pick_or_an_empty_book_has_nothing() {
        let elsewhere = Scope::Pick(named(PickId::new, 9));
        let none = table(&picked().book, elsewhere, By::Crop, Some(By::Day));
        assert_eq!((none.lines.len(), none.total, none.bins), (0, Grams::ZERO, 0));
        assert!(none.share(Grams(1)).abs() < 1e-9 && none.bar(Grams(1)).abs() < 1e-9);
        assert!(picks(&Book::default()).is_empty());
    }

    #[test]
    fn the_file_has_the_sums_below() {
        let table = table(&picked().book, Scope::Season, By::Day, Some(By::Class));
        assert_eq!(
            csv(&table, KG),
            "day,Ripe kg,Colouring kg,Green kg,total kg,bins\r\n\
             Fri 9 Oct,4.0,4.0,12.0,20.0,4\r\n\
             total,4.0,4.0,12.0,20.0,4\r\n"
        );
        assert_eq!(picks(&picked().book)[0].1, "clear-out, Fri 9 Oct");
    }
}
