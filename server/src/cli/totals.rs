//! `lugbook totals`

use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use shared_types::book::Book;
use shared_types::book::totals::{By, Totals};
use shared_types::ids::PickId;
use shared_types::units::{Grams, WeightUnit};

use super::{DataArguments, Failure, book, say};

/// Arguments of `lugbook totals`.
#[derive(Debug, Args)]
pub(super) struct TotalsArguments {
    #[command(flatten)]
    data: DataArguments,
    /// What the rows are.
    #[arg(long, value_parser = by(), default_value = "class")]
    by: By,
    /// What the columns are.
    #[arg(long, value_parser = by())]
    across: Option<By>,
    /// Only this pick, by its name or id; all of them when left out.
    #[arg(long, value_name = "NAME")]
    pick: Option<String>,
    /// Print JSON, weights in grams.
    #[arg(long)]
    json: bool,
}

/// The words that totals can be split by.
fn by() -> impl TypedValueParser<Value = By> {
    PossibleValuesParser::new(By::ALL.map(By::word))
        .map(|word| By::of_word(&word).expect("one of the possible words"))
}

pub(super) fn run(arguments: TotalsArguments) -> Result<(), Failure> {
    let book = book::read(&arguments.data.config())?;
    let pick = arguments.pick.map(|name| find_pick(&book, &name)).transpose()?;
    let totals = book.totals(pick, arguments.by, arguments.across);
    if arguments.json {
        say::line(serde_json::to_string_pretty(&totals)?)?;
    } else {
        say::line(table(&totals, book.holding.unit()))?;
    }
    Ok(())
}

/// The pick of that id or name; of several with one name the latest.
fn find_pick(book: &Book, name: &str) -> Result<PickId, String> {
    let is_it = |id: &PickId| {
        id.to_string() == name || book.pick_name(*id).to_lowercase() == name.to_lowercase()
    };
    let found = book.picks.iter().filter(|(id, _)| is_it(id));
    let latest = found.max_by_key(|(id, pick)| (pick.day.get().copied(), **id));
    latest.map(|(id, _)| *id).ok_or_else(|| {
        let names: Vec<&str> = book.picks.keys().map(|id| book.pick_name(*id)).collect();
        match names.as_slice() {
            [] => "there are no picks yet: open one on a phone".to_owned(),
            names => format!("no pick is called `{name}`; there is: {}", names.join(", ")),
        }
    })
}

fn table(totals: &Totals, unit: WeightUnit) -> String {
    let mut lines = vec![[&[totals.by.word().to_owned()], totals.columns.as_slice()].concat()];
    lines[0].extend(["total".to_owned(), "bins".to_owned()]);
    for row in &totals.rows {
        let mut line = vec![row.label.clone()];
        line.extend(row.cells.iter().map(|grams| number(*grams, unit)));
        line.extend([number(row.total, unit), row.bins.to_string()]);
        lines.push(line);
    }
    let mut all = vec!["all".to_owned()];
    for column in 0..totals.columns.len() {
        all.push(number(totals.rows.iter().map(|row| row.cells[column]).sum(), unit));
    }
    all.extend([number(totals.total, unit), totals.bins.to_string()]);
    lines.push(all);
    format!("{}\n(weights in {})", say::columns(&lines), unit.symbol())
}

/// With one decimal, in the holding's unit.
pub(super) fn number(grams: Grams, unit: WeightUnit) -> String {
    let in_unit = match unit {
        WeightUnit::Kg => grams.kg(),
        WeightUnit::Lb => grams.kg() / 0.453_592_37,
    };
    format!("{in_unit:.1}")
}

#[cfg(test)]
mod tests {
    use shared_types::units::Millis;

    use super::*;
    use crate::demo::story;

    #[test]
    fn the_table_adds_up_to_its_last_line() {
        let mut book = Book::default();
        for entry in story(Millis(1_791_547_200_000), 0).entries {
            book.fold(&entry);
        }
        let pick = find_pick(&book, "last clear-out").unwrap();
        let totals = book.totals(Some(pick), By::Class, Some(By::Place));
        let table = table(&totals, WeightUnit::Kg);
        let all = table.lines().find(|line| line.starts_with("all")).unwrap();
        assert!(all.contains(&number(totals.total, WeightUnit::Kg)), "{table}");
        assert_eq!(table.lines().count(), totals.rows.len() + 3, "{table}");
        let unknown = find_pick(&book, "no such").unwrap_err();
        assert!(unknown.contains("Last clear-out"), "{unknown}");
    }
}
