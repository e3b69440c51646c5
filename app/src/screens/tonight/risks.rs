//! Who is at risk and why, with the sources; and the heat a tunnel would take.

use leptos::prelude::*;
use shared_types::outlook::TonightBook;
use shared_types::trade::cold::{Level, Risk, Threshold};
use shared_types::trade::provenance::cite;

use super::page::degrees;
use crate::csv::{Cell, Table};
use crate::parts::Show;
use crate::parts::export::ExportTable;

#[component]
pub(super) fn Risks(told: Memo<Result<TonightBook, String>>) -> impl IntoView {
    let risks = Memo::new(move |_| {
        told.with(|told| told.as_ref().map_or_else(|_| Vec::new(), |told| told.risks.clone()))
    });
    let name = Signal::derive(move || {
        let day = told.with(|told| told.as_ref().ok().map(|told| told.day.to_string()));
        format!("at-risk-{}", day.unwrap_or_default())
    });
    let heat = move || {
        let all = told.with(|told| told.as_ref().map(|told| told.heat.clone()).unwrap_or_default());
        all.into_iter().map(|told| {
            let words = told.heat.as_ref().map(|heat| heat.words.clone()).or(told.problem);
            let cautions = told.heat.map(|heat| heat.cautions).unwrap_or_default();
            view! {
                <div class="note warn">
                    <p>
                        <strong>{told.name}</strong>
                        ": "
                        {words}
                    </p>
                    {cautions.into_iter().map(|said| view! { <p>{said.text}</p> }).collect_view()}
                </div>
            }
        }).collect_view()
    };
    let any_heat = move || told.with(|told| told.as_ref().is_ok_and(|told| !told.heat.is_empty()));
    view! {
        <Show when=move || risks.with(|all| !all.is_empty())>
            <section class="section">
                <header>
                    <h2>"At risk"</h2>
                </header>
                <ul class="list">{move || risks.get().iter().map(row).collect_view()}</ul>
                <ExportTable what="what is at risk" name make=move || risks.with(|all| table(all)) />
            </section>
        </Show>
        <Show when=any_heat>
            <details class="more">
                <summary>"Heat to hold 2° under plastic"</summary>
                {heat}
            </details>
        </Show>
    }
}

fn level(risk: &Risk) -> &'static str {
    match risk.level {
        Level::Expected => "harm expected",
        Level::Possible => "harm possible",
        Level::Safe if risk.chills => "chills",
        Level::Safe => "safe",
    }
}

fn row(risk: &Risk) -> impl IntoView + use<> {
    let sources = risk.threshold.iter().chain(&risk.others).map(|threshold| {
        let Threshold { celsius, words, source, .. } = threshold;
        view! { <p class="source">{format!("{words}, {}: {}", degrees(*celsius), cite(source))}</p> }
    });
    let waits = risk.waits.as_ref().map(|waits| view! { <p class="sub">{waits.words.clone()}</p> });
    let credits = risk.credits.iter().filter(|credit| credit.least < 0.0 || credit.most > 0.0);
    let credits =
        credits.map(|credit| view! { <p class="source">{credit.why.clone()}</p> }).collect_view();
    view! {
        <li class="row">
            <div class="body">
                <p class="title">{risk.thing.label.clone()}</p>
                <p class="sub">{risk.why.clone()}</p>
                {waits}
                <details class="more">
                    <summary>"Sources"</summary>
                    {sources.collect_view()}
                    {credits}
                </details>
            </div>
            <div class="right">
                <b>{level(risk)}</b>
                <span class="sub">{format!("{} there", degrees(risk.here.low))}</span>
            </div>
        </li>
    }
}

fn table(risks: &[Risk]) -> Table {
    let number = |celsius: f64| Cell::Number(format!("{celsius:.1}"));
    let rows = risks.iter().map(|risk| {
        let threshold = risk.threshold.as_ref();
        vec![
            Cell::text(risk.thing.label.clone()),
            Cell::text(level(risk)),
            number(risk.here.low),
            number(risk.here.from),
            threshold.map_or_else(|| Cell::text(""), |threshold| number(threshold.celsius)),
            Cell::text(risk.why.clone()),
        ]
    });
    let header =
        ["what", "risk", "low there °C", "cold end °C", "harmed at °C", "why"].map(str::to_owned);
    Table { header: header.to_vec(), rows: rows.collect() }
}
