//! Random lives of three phones: whatever happens, they end alike and nothing kept is lost.

use proptest::prelude::*;

use super::super::*;
use super::world::*;

#[derive(Clone, Debug)]
enum Step {
    Keep(usize, i64),
    SetRoom(usize, i32),
    Exchange(usize, Luck),
    Restart(usize),
}

fn step() -> impl Strategy<Value = Step> {
    let phone = 0usize..3;
    let luck = prop_oneof![
        4 => Just(Luck::Fine),
        1 => Just(Luck::Lost),
        1 => Just(Luck::ReplyLost),
        1 => Just(Luck::DiskFull),
        1 => Just(Luck::Killed),
    ];
    prop_oneof![
        4 => (phone.clone(), 1i64..20_000).prop_map(|(p, g)| Step::Keep(p, g)),
        1 => (phone.clone(), -5i32..30).prop_map(|(p, t)| Step::SetRoom(p, t)),
        4 => (phone.clone(), luck).prop_map(|(p, l)| Step::Exchange(p, l)),
        1 => phone.prop_map(Step::Restart),
    ]
}

proptest! {
    #[test]
    fn phones_end_alike_and_nothing_kept_is_lost(steps in prop::collection::vec(step(), 1..60)) {
        let mut server = Server::new(1);
        let mut phones = [Phone::new(1), Phone::new(2), Phone::new(3)];
        let mut now = Millis(0);
        for (n, step) in (1u8..).zip(steps) {
            now = now.plus(120_000);
            match step {
                Step::Keep(p, grams) => phones[p].keep(bin(p as u8 + 1, n, grams), now),
                Step::SetRoom(p, degrees) => phones[p].keep(room(degrees), now),
                Step::Exchange(p, luck) => phones[p].exchange(&mut server, luck, now),
                Step::Restart(p) => phones[p].restart(now),
            }
        }
        for _ in 0..2 {
            for phone in &mut phones {
                now = now.plus(120_000);
                phone.exchange(&mut server, Luck::Fine, now);
            }
        }
        let whole = server.book();
        for phone in &phones {
            prop_assert_eq!(phone.engine.status().unsent, 0);
            prop_assert_eq!(phone.engine.confirmed(), &whole);
            let shown = phone.engine.book();
            prop_assert_eq!(&*shown, &whole);
            for id in &phone.kept {
                let times = server.log.iter().filter(|entry| entry.id() == *id).count();
                prop_assert_eq!(times, 1, "{:?}", id);
            }
        }
        let kept: usize = phones.iter().map(|phone| phone.kept.len()).sum();
        prop_assert_eq!(server.log.len(), kept);
    }
}
