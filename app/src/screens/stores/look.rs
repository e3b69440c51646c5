//! A look that found something: sound, softening, thrown; by count, by weight, or both.

use leptos::prelude::*;
use shared_types::entry::RoundMade;
use shared_types::ids::{LotId, RoundId};
use shared_types::trade::crops::Defect;

use crate::farm::use_farm;
use crate::parts::Field;
use crate::parts::select::Select;
use crate::screens::house::edit::Keep;
use crate::typed::{weight, whole};
use crate::words::key_of;

#[component]
pub(super) fn LookForm(id: LotId, done: Callback<String>) -> impl IntoView {
    let farm = use_farm();
    let [sound, softening, thrown, soft_weight, lost_weight] =
        [(); 5].map(|()| RwSignal::new(String::new()));
    let defect = RwSignal::new(None::<String>);
    let make = Box::new(move || {
        let unit = farm.unit();
        let count = |text: RwSignal<String>| whole(&text.get_untracked());
        let weighed = |text: RwSignal<String>| -> Result<_, String> {
            Ok(weight(&text.get_untracked(), unit)?.filter(|grams| grams.0 > 0))
        };
        let fact = RoundMade {
            soft: weighed(soft_weight)?,
            lost: weighed(lost_weight)?,
            defect: defect.get_untracked(),
            sound_count: count(sound)?,
            soft_count: count(softening)?,
            lost_count: count(thrown)?,
            ..RoundMade::nothing(farm.fresh(RoundId::new), id, farm.now(), farm.person())
        };
        let said = [fact.sound_count, fact.soft_count, fact.lost_count];
        if said == [None; 3] && fact.soft.is_none() && fact.lost.is_none() {
            return Err("Type what was found: a count or a weight.".to_owned());
        }
        Ok(Some(fact.into()))
    });
    let mut defects: Vec<(Option<String>, String)> =
        Defect::ALL.iter().map(|d| (Some(key_of(d)), d.words().to_owned())).collect();
    defects.insert(0, (None, "not said".to_owned()));
    let symbol = farm.book.with_untracked(|book| book.holding.unit().symbol());
    view! {
        <Keep
            make
            done=Callback::new(move |()| done.run("Kept the look.".to_owned()))
            button="Keep this look"
        >
            <Field label="Sound, how many" value=sound inputmode="numeric" />
            <Field label="Softening, how many" value=softening inputmode="numeric" />
            <Field label="Thrown, how many" value=thrown inputmode="numeric" />
            <Field
                label=format!("Softening set apart, {symbol}")
                value=soft_weight
                inputmode="decimal"
                hint="Becomes a store of its own, to be eaten first."
            />
            <Field label=format!("Thrown, {symbol}") value=lost_weight inputmode="decimal" />
            <Select
                id="look-defect"
                label="What was wrong"
                options=Signal::stored(defects)
                chosen=defect
                on_choose=move |word| defect.set(word)
            />
        </Keep>
    }
}
