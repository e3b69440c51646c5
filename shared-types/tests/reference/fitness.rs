//! Fitness against published guidance, row by row, and the table's totality.

use std::collections::BTreeSet;

use shared_types::trade::crops::{self, Defect};
use shared_types::trade::fitness::{
    Asked, Fruit, Ripened, Tried, Use, Vines, caution_for, decide, fitness, label_caution_for,
    rules,
};
use shared_types::trade::methods::{self, Kind};

const VINES: [Vines; 4] = [Vines::Alive, Vines::Hurt, Vines::Dead, Vines::Unknown];
const FRUIT: [Fruit; 3] = [Fruit::Sound, Fruit::Frozen, Fruit::Unknown];
const RIPENED: [Ripened; 3] = [Ripened::OnVine, Ripened::Indoors, Ripened::Unknown];

fn ask(crop: &str, class: &str, vines: Vines, fruit: Fruit, defect: Option<Defect>) -> Asked {
    Asked {
        crop: crop.into(),
        class: class.into(),
        vines,
        fruit,
        ripened: Ripened::Unknown,
        defect,
        cold_seen: true,
    }
}

fn tomato(class: &str, vines: Vines, fruit: Fruit, defect: Option<Defect>) -> Vec<Use> {
    fitness(&ask("tomato", class, vines, fruit, defect)).uses.into()
}

/// Every question of the table.
fn every() -> Vec<Asked> {
    let mut all = Vec::new();
    for crop in crops::all() {
        for class in &crop.classes {
            for vines in VINES {
                for fruit in FRUIT {
                    for ripened in RIPENED {
                        for defect in Defect::ALL.into_iter().map(Some).chain([None]) {
                            for cold_seen in [false, true] {
                                all.push(Asked {
                                    crop: crop.slug.clone(),
                                    class: class.id.clone(),
                                    vines,
                                    fruit,
                                    ripened,
                                    defect,
                                    cold_seen,
                                });
                            }
                        }
                    }
                }
            }
        }
    }
    all
}

#[test]
fn every_question_has_an_answer_with_reason_and_source() {
    let mut asked = 0;
    for question in every() {
        let answer = fitness(&question);
        assert!(!answer.reason.is_empty() && !answer.source.is_empty(), "{question:?}");
        assert_ne!(answer.rule, "otherwise", "a known crop fell through: {question:?}");
        assert_eq!(answer.best, answer.uses.best());
        asked += 1;
    }
    assert!(asked > 30_000, "{asked}");
}

#[test]
fn what_must_never_be_in_a_jar() {
    // Guide 3 (V): "Do not can tomatoes from dead or frost-killed vines." K-State 2009 (V): frozen
    // fruit "should not be canned". K-State (V): over-ripe is less acid, diseased is discarded.
    for question in every() {
        let tender = crops::crop(&question.crop).is_some_and(|crop| {
            matches!(crop.group, crops::Group::VineFruit | crops::Group::Squash)
        });
        let answer = fitness(&question);
        let never = question.fruit == Fruit::Frozen
            || matches!(
                question.defect,
                Some(
                    Defect::Disease | Defect::Soft | Defect::Frost | Defect::Gnawed | Defect::Split
                )
            )
            || (tender && question.vines == Vines::Dead);
        let unsettled = tender
            && question.cold_seen
            && (question.vines == Vines::Unknown || question.fruit == Fruit::Unknown);
        if never || unsettled {
            assert!(!answer.uses.allows(Use::Jar), "{question:?}: {}", answer.rule);
        }
    }
}

#[test]
fn each_row_of_the_guidance_for_tomatoes() {
    use Use::{Dry, Feed, Freeze, Fresh, Jar};
    let all = vec![Jar, Freeze, Dry, Fresh, Feed];
    let (alive, hurt, dead) = (Vines::Alive, Vines::Hurt, Vines::Dead);
    let (sound, frozen) = (Fruit::Sound, Fruit::Frozen);
    // Sound, living vine, ripe: yes, acidified (V:S1). Picked before frost, ripened indoors (V:S11).
    assert_eq!(tomato("ripe", alive, sound, None), all);
    assert_eq!(tomato("colouring", alive, sound, None), all);
    // Sound, green, living vine: jar, freeze; drying "not stated" (V:S1, S12).
    assert_eq!(tomato("green", alive, sound, None), [Jar, Freeze, Fresh, Feed]);
    // Common practice: fruit of hurt vines keeps its use.
    assert_eq!(tomato("ripe", hurt, sound, None), all);
    assert_eq!(tomato("green", hurt, sound, None), tomato("green", alive, sound, None));
    // Dead or frost-killed vine: no jar; freeze, dry (one state), eat (V:S1, S9, S10, S13, S15).
    assert_eq!(tomato("ripe", dead, sound, None), [Freeze, Dry, Fresh, Feed]);
    assert_eq!(tomato("green", dead, sound, None), [Freeze, Dry, Fresh, Feed]);
    // The fruit itself froze: the same; lemon juice does not rescue it (V:S9, S14).
    assert_eq!(tomato("ripe", alive, frozen, None), [Freeze, Dry, Fresh, Feed]);
    assert_eq!(tomato("ripe", alive, sound, Some(Defect::Frost)), [Freeze, Dry, Fresh, Feed]);
    // Over-ripe, soft: freeze if free from decay, eat (V:S15, S18).
    assert_eq!(tomato("ripe", alive, sound, Some(Defect::Soft)), [Freeze, Fresh, Feed]);
    // Diseased, mouldy: discard (V:S1, S15).
    assert_eq!(tomato("ripe", alive, sound, Some(Defect::Disease)), []);
    // Discoloured spot on sound fruit: trim, then use (V:S1, S3).
    assert_eq!(tomato("ripe", alive, sound, Some(Defect::Sunscald)), [Jar, Freeze, Fresh, Feed]);
    // Blossom-end rot: the rest is edible (V), not for canning (M).
    assert_eq!(tomato("hurt", alive, sound, Some(Defect::BlossomEndRot)), [Freeze, Fresh, Feed]);
}

#[test]
fn the_jar_waits_for_the_cold_check() {
    let mut asked = ask("tomato", "ripe", Vines::Unknown, Fruit::Unknown, None);
    let pending = fitness(&asked);
    assert!(!pending.settled && !pending.uses.allows(Use::Jar), "{}", pending.rule);
    asked.vines = Vines::Alive;
    let thaw = fitness(&asked);
    assert!(!thaw.settled && !thaw.uses.allows(Use::Jar), "slight frost hides at first");
    asked.fruit = Fruit::Sound;
    assert!(fitness(&asked).settled && fitness(&asked).uses.allows(Use::Jar));
    // No killing cold has been seen there: nothing to wait for.
    asked.vines = Vines::Unknown;
    asked.cold_seen = false;
    assert!(fitness(&asked).settled && fitness(&asked).uses.allows(Use::Jar));
}

#[test]
fn other_crops() {
    let uses = |crop: &str, class: &str, vines, fruit, defect| {
        fitness(&ask(crop, class, vines, fruit, defect)).uses
    };
    let (alive, dead, sound) = (Vines::Alive, Vines::Dead, Fruit::Sound);
    // "Do not use soft or diseased peppers" (V:S3, S8): not frozen or dried either.
    let soft: Vec<Use> = uses("pepper", "ripe", alive, sound, Some(Defect::Soft)).into();
    assert_eq!(soft, [Use::Feed]);
    // Dead tops are how onions, garlic and potatoes ripen.
    assert!(uses("onion", "sound", dead, sound, None).allows(Use::Jar));
    // Frost sweetens kale.
    assert!(uses("kale", "sound", alive, Fruit::Frozen, None).allows(Use::Freeze));
    // Hard rind, mature flesh (V:S3).
    assert!(uses("pumpkin", "ripe", alive, sound, None).allows(Use::Jar));
    assert!(!uses("pumpkin", "colouring", alive, sound, None).allows(Use::Jar));
}

#[test]
fn every_rule_decides_some_question() {
    // A rule that never decides is a rule somebody believes in and nobody is held to. The last one
    // is for crops that are not in the table.
    let mut waiting: BTreeSet<_> = rules().iter().map(|rule| rule.id.as_str()).collect();
    for question in every() {
        waiting.remove(fitness(&question).rule.as_str());
    }
    assert_eq!(waiting, BTreeSet::from(["otherwise"]));
    let unheard = ask("okra", "ripe", Vines::Alive, Fruit::Sound, None);
    assert_eq!(fitness(&unheard).rule, "otherwise");
    assert!(!fitness(&unheard).uses.allows(Use::Jar));
}

#[test]
fn each_row_of_the_table_answers_as_its_source_says() {
    use Use::{Dry, Feed, Freeze, Fresh, Jar};
    use Vines::{Alive, Dead, Hurt};
    let (sound, frozen, unseen) = (Fruit::Sound, Fruit::Frozen, Fruit::Unknown);
    let any = [Jar, Freeze, Dry, Fresh, Feed].as_slice();
    let cut = [Freeze, Fresh, Feed].as_slice();
    let held = [Freeze, Dry, Fresh, Feed].as_slice();
    let some = |defect| Some(defect);
    // Rule, source of it in the reference, a question it decides, and what it allows.
    for (rule, crop, class, vines, fruit, defect, uses) in [
        ("disease", "tomato", "ripe", Alive, sound, some(Defect::Disease), [].as_slice()), // S1, S15
        ("soft-pepper", "pepper", "ripe", Alive, sound, some(Defect::Soft), &[Feed]),      // S3, S8
        ("gnawed", "tomato", "ripe", Alive, sound, some(Defect::Gnawed), &[Feed]), // practice
        ("soft", "tomato", "ripe", Alive, sound, some(Defect::Soft), cut),         // S15, S18
        ("frosted-leaf", "kale", "sound", Alive, frozen, None, cut),
        ("frosted-root", "potato", "sound", Alive, frozen, None, &[Fresh, Feed]),
        ("frosted-squash", "pumpkin", "ripe", Alive, frozen, None, cut),
        ("frosted-tomato", "tomato", "ripe", Alive, frozen, None, held), // S9, S14
        ("frosted", "pepper", "ripe", Alive, frozen, None, cut),         // D of S9
        ("frost-defect-leaf", "kale", "sound", Alive, sound, some(Defect::Frost), cut),
        ("frost-defect-tomato", "tomato", "green", Alive, sound, some(Defect::Frost), held), // S9
        ("frost-defect", "pepper", "green", Alive, sound, some(Defect::Frost), cut),
        ("dead-vines-cut", "tomato", "ripe", Dead, sound, some(Defect::Split), cut),
        ("dead-vines", "tomato", "green", Dead, sound, None, held), // S1, S9
        ("dead-vines-other", "pepper", "ripe", Dead, sound, None, cut), // D of S1
        ("ber", "tomato", "ripe", Alive, sound, some(Defect::BlossomEndRot), cut),
        ("split", "tomato", "ripe", Alive, sound, some(Defect::Split), cut),
        ("other-defect", "tomato", "ripe", Alive, sound, some(Defect::Other), &[Fresh, Feed]),
        ("cold-check-pending", "tomato", "ripe", Vines::Unknown, sound, None, cut),
        ("thaw-check-pending", "tomato", "ripe", Alive, unseen, None, cut),
        (
            "sunscald-tomato",
            "tomato",
            "ripe",
            Alive,
            sound,
            some(Defect::Sunscald),
            &[Jar, Freeze, Fresh, Feed], // S1: "Trim off any bruised or discolored portions"
        ),
        ("sunscald", "pepper", "ripe", Alive, sound, some(Defect::Sunscald), cut),
        ("hurt-class", "tomato", "hurt", Alive, sound, None, cut),
        ("hurt-vines-tomato", "tomato", "ripe", Hurt, sound, None, any), // not an exclusion of S1
        ("sound-tomato", "tomato", "colouring", Alive, sound, None, any), // S1, S11
        ("green-tomato", "tomato", "green", Alive, sound, None, &[Jar, Freeze, Fresh, Feed]), // S12
        ("sound-pepper", "pepper", "ripe", Alive, sound, None, any),
        ("sound-squash", "pumpkin", "ripe", Alive, sound, None, any), // S22
        ("unripe-squash", "pumpkin", "green", Alive, sound, None, cut),
        ("watermelon", "watermelon", "sound", Alive, sound, None, &[Fresh, Feed]),
        ("sound-other", "cucumber", "sound", Alive, sound, None, any),
        ("otherwise", "okra", "ripe", Alive, sound, None, &[Fresh, Feed]),
    ] {
        let answer = fitness(&ask(crop, class, vines, fruit, defect));
        assert_eq!(answer.rule, rule, "{crop} {class} {vines:?} {fruit:?} {defect:?}");
        assert_eq!(Vec::from(answer.uses), uses, "{rule}");
    }
    // S11: indoors ripened fruit is canned with acid; its vines' death still withholds the jar.
    let mut indoors = ask("tomato", "ripe", Alive, sound, None);
    indoors.ripened = Ripened::Indoors;
    let answer = fitness(&indoors);
    assert_eq!((answer.rule.as_str(), Vec::from(answer.uses).as_slice()), ("indoors-tomato", any));
    indoors.vines = Dead;
    assert_eq!(fitness(&indoors).rule, "dead-vines");
}

#[test]
fn the_whole_decision_is_told() {
    for question in every().into_iter().step_by(7) {
        let told = decide(&question);
        assert_eq!(told.fitness, fitness(&question));
        let (last, before) = told.tried.split_last().expect("a rule was tried");
        assert!(last.decides && last.rule == told.fitness.rule);
        assert!(last.conditions.iter().all(|condition| condition.holds));
        for tried in before {
            assert!(!tried.decides, "{question:?}");
            assert!(tried.conditions.iter().any(|condition| !condition.holds), "{question:?}");
        }
    }
    let mut dead = ask("tomato", "ripe", Vines::Dead, Fruit::Unknown, None);
    dead.cold_seen = false;
    let told = decide(&dead);
    assert!(told.taken.contains("taken as sound"), "{}", told.taken);
    let words: Vec<_> = told.tried.iter().map(Tried::words).collect();
    assert!(words[0].starts_with("disease: no, defect is none, not disease"), "{}", words[0]);
    let last = words.last().expect("a rule");
    assert!(
        last.starts_with("dead-vines: yes, crop is tomato, vines at picking is dead"),
        "{last}"
    );
}

#[test]
fn an_unfit_batch_is_cautioned_and_a_fit_one_is_not() {
    // Reference, 1: all shelf-stable jars from frost-killed vines are blocked, pickles included.
    for question in every().into_iter().step_by(5) {
        let fitness = fitness(&question);
        for method in methods::all() {
            let said = caution_for(method, &fitness);
            let fit = method.kind.needs().is_none_or(|needed| fitness.uses.allows(needed));
            assert_eq!(said.is_none(), fit, "{} {question:?}", method.id);
            assert_eq!(label_caution_for(method, &fitness).is_none(), fit);
            let Some(said) = said else { continue };
            assert!(said.text.ends_with(&fitness.reason) && said.source == fitness.source);
            assert_eq!(said.text.starts_with("Not for the shelf"), method.kind == Kind::Jar);
        }
    }
}
