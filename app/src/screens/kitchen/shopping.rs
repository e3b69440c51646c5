//! What is missing for the kept plan.

use leptos::prelude::*;
use shared_types::outlook::kitchen::{Item, Measured};

use crate::parts::Empty;

/// An amount as it is bought: `1.2 L`, `450 g`, `9`.
pub fn amount(n: i64, unit: Measured) -> String {
    let (small, large) = match unit {
        Measured::Pieces => return n.to_string(),
        Measured::Millilitres => ("mL", "L"),
        Measured::Grams => ("g", "kg"),
    };
    if n < 1_000 {
        return format!("{n} {small}");
    }
    // Rounded up: nobody wants to be a spoon short.
    let tenths = (n + 99) / 100;
    format!("{}.{} {large}", tenths / 10, tenths % 10)
}

/// `vinegar of 5 %: 1.2 L`, and what is there of it.
fn line(item: &Item) -> (String, String) {
    let missing = format!("{}: {}", item.name, amount(item.missing(), item.unit));
    let sub = match item.have {
        Some(have) => format!(
            "{} needed, {} there",
            amount(item.need, item.unit),
            amount(have.max(0), item.unit)
        ),
        None => "not counted yet".to_owned(),
    };
    (missing, sub)
}

/// The list in one line, for the board: `vinegar of 5 % 1.2 L, new lids 9`.
pub fn summary(items: &[Item]) -> String {
    let missing = items.iter().filter(|item| item.missing() > 0);
    let each = missing.map(|item| format!("{} {}", item.name, amount(item.missing(), item.unit)));
    each.collect::<Vec<_>>().join(", ")
}

/// What to buy, then what is there.
#[component]
pub fn ShoppingList(items: Memo<Vec<Item>>) -> impl IntoView {
    let rows = move |missing: bool| {
        let of = items.get().into_iter().filter(move |item| (item.missing() > 0) == missing);
        of.map(|item| {
            let (title, sub) = line(&item);
            let title = if missing { title } else { item.name.clone() };
            view! {
                <li class="row">
                    <div class="body">
                        <p class="title">{title}</p>
                        <p class="sub">{sub}</p>
                    </div>
                </li>
            }
        })
        .collect_view()
    };
    let none = move || items.with(|items| items.iter().all(|item| item.missing() == 0));
    let some_there = move || items.with(|items| items.iter().any(|item| item.missing() == 0));
    view! {
        <section class="section">
            <header>
                <h2>"To buy"</h2>
                <span class="sub">"for the plan that is kept"</span>
            </header>
            {move || {
                none()
                    .then(|| {
                        view! { <Empty text="Nothing is missing for the plan. Count jars, lids and vinegar under Stock to be sure." /> }
                    })
            }}
            <ul class="list">{move || rows(true)}</ul>
            {move || {
                some_there()
                    .then(|| {
                        view! {
                            <h3>"There already"</h3>
                            <ul class="list">{rows(false)}</ul>
                        }
                    })
            }}
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(need: i64, have: Option<i64>) -> Item {
        Item {
            name: "vinegar of 5 %".into(),
            item: Some("vinegar".into()),
            unit: Measured::Millilitres,
            need,
            have,
        }
    }

    #[test]
    fn amounts_are_rounded_up_as_they_are_bought() {
        assert_eq!(amount(1_120, Measured::Millilitres), "1.2 L");
        assert_eq!(amount(450, Measured::Grams), "450 g");
        assert_eq!(amount(9, Measured::Pieces), "9");
    }

    #[test]
    fn only_what_is_missing_is_to_be_bought() {
        assert_eq!(
            summary(&[item(1_120, Some(500)), item(400, Some(500))]),
            "vinegar of 5 % 620 mL"
        );
        assert_eq!(line(&item(1_120, None)).1, "not counted yet");
    }
}
