//! Fitness against published guidance, row by row, and the table's totality.

use shared_types::trade::crops::{self, Defect};
use shared_types::trade::fitness::{Asked, Fruit, Use, Vines, fitness};

const VINES: [Vines; 4] = [Vines::Alive, Vines::Hurt, Vines::Dead, Vines::Unknown];
const FRUIT: [Fruit; 3] = [Fruit::Sound, Fruit::Frozen, Fruit::Unknown];

fn ask(crop: &str, class: &str, vines: Vines, fruit: Fruit, defect: Option<Defect>) -> Asked {
    Asked { crop: crop.into(), class: class.into(), vines, fruit, defect, cold_seen: true }
}

fn tomato(class: &str, vines: Vines, fruit: Fruit, defect: Option<Defect>) -> Vec<Use> {
    fitness(&ask("tomato", class, vines, fruit, defect)).uses.into()
}

/// Every question of the table.
fn every() -> impl Iterator<Item = Asked> {
    crops::all().iter().flat_map(|crop| {
        crop.classes.iter().flat_map(move |class| {
            VINES.into_iter().flat_map(move |vines| {
                FRUIT.into_iter().flat_map(move |fruit| {
                    let defects = Defect::ALL.into_iter().map(Some).chain([None]);
                    defects.flat_map(move |defect| {
                        [false, true].map(|cold_seen| Asked {
                            crop: crop.slug.clone(),
                            class: class.id.clone(),
                            vines,
                            fruit,
                            defect,
                            cold_seen,
                        })
                    })
                })
            })
        })
    })
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
    assert!(asked > 10_000, "{asked}");
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
