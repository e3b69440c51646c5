//! What the cold may harm: what grows, and what is picked and stands somewhere.

use std::collections::BTreeMap;

use crate::book::Book;
use crate::ids::{CropId, PlaceId, RoomId};
use crate::outlook::Today;
use crate::outlook::season::crop_and_variety;
use crate::trade::cold::{self, Closable, Stands, Thing};
use crate::units::{Day, Grams};

/// How things in a room stand, by the words of its name: `Porch`, `Tool shed`, `Under the plastic`.
/// A room that says nothing of the kind is a room of the house.
pub fn shelter(name: &str) -> Stands {
    let name = name.to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| name.contains(word));
    if says(&["porch", "veranda", "balcony", "lean-to", "carport"]) {
        Stands::Porch
    } else if says(&["tunnel", "plastic", "greenhouse", "polytunnel"]) {
        Stands::Tunnel
    } else if says(&["shed", "barn", "garage", "stable"]) {
        Stands::Shed
    } else if says(&["outside", "outdoors", "open air", "field", "yard", "heap"]) {
        Stands::Open
    } else {
        Stands::Indoors
    }
}

/// Tunnels that can be closed: those whose cover says so or, where beds are covered and nobody
/// described by what, the one tunnel they stand in.
pub(super) fn closables(book: &Book, day: Day) -> Vec<Closable> {
    let is_tunnel = |cover: &crate::book::nights::Cover| {
        cover.cover.get().map(String::as_str) == Some("tunnel")
    };
    let described: Vec<Closable> = book
        .nights
        .covers
        .iter()
        .filter(|(_, cover)| is_tunnel(cover))
        .map(|(place, _)| Closable {
            id: place.to_string(),
            label: book.place_name(*place).to_owned(),
            heater: false,
        })
        .collect();
    let covered = |place: &PlaceId| {
        book.places.get(place).is_some_and(|place| place.covered.get() == Some(&true))
    };
    let stands_covered =
        book.nights.standing(day).any(|(_, planting)| planting.place.get().is_some_and(covered));
    if described.is_empty() && stands_covered {
        vec![Closable { id: "tunnel".to_owned(), label: "the tunnel".to_owned(), heater: false }]
    } else {
        described
    }
}

/// The things, grouped by the night they go by.
pub(super) fn by_night<'a>(
    book: &Book,
    today: Today,
    day: Day,
    night_of: &impl Fn(PlaceId) -> Option<&'a cold::Tonight>,
    whole: Option<&'a cold::Tonight>,
) -> Vec<(&'a cold::Tonight, Vec<Thing>)> {
    let mut groups: Vec<(&cold::Tonight, Vec<Thing>)> = Vec::new();
    let mut add = |night: Option<&'a cold::Tonight>, thing: Thing| {
        let Some(night) = night else { return };
        match groups.iter_mut().find(|(known, _)| std::ptr::eq(*known, night)) {
            Some((_, things)) => things.push(thing),
            None => groups.push((night, vec![thing])),
        }
    };
    for (id, planting) in book.nights.standing(day) {
        let (Some(place), Some(crop)) = (planting.place.get(), planting.crop.get()) else {
            continue;
        };
        let what = crop_and_variety(book, crop, planting.variety.get().copied());
        let of_place = book.places.get(place);
        let under = of_place.is_some_and(|place| place.covered.get() == Some(&true));
        let cover = book.nights.covers.get(place).and_then(|cover| cover.cover.get());
        let known = cover.filter(|cover| cold::cover(cover).is_some());
        let (mut covers, mut at_hand) = (Vec::new(), Vec::new());
        match known.map(String::as_str) {
            Some("tunnel") => covers.push("tunnel".to_owned()),
            Some(other) => at_hand.push(other.to_owned()),
            None => {}
        }
        if under && covers.is_empty() {
            covers.push("tunnel".to_owned());
        }
        let thing = Thing {
            id: id.to_string(),
            label: format!("{what}, {}", book.place_name(*place)),
            crop: crop.clone(),
            stands: Stands::Growing { height_mm: None },
            covers,
            at_hand,
        };
        add(night_of(*place), thing);
    }
    for ((room, crop), left) in picked(book, today) {
        let name = book.room_name(room);
        let stands = shelter(name);
        let thing = Thing {
            id: format!("{room}-{crop}"),
            label: format!("{}, {:.0} kg, {name}", crop_and_variety(book, &crop, None), left.kg()),
            crop,
            stands,
            covers: Vec::new(),
            at_hand: Vec::new(),
        };
        // What is safe indoors would only make the list long.
        if stands != Stands::Indoors {
            add(whole, thing);
        }
    }
    groups
}

fn picked(book: &Book, today: Today) -> BTreeMap<(RoomId, CropId), Grams> {
    let mut rooms = BTreeMap::new();
    let lots = book.lots();
    for lot in
        lots.standing().into_iter().filter(|lot| lot.day_at(today.offset_minutes) <= today.day)
    {
        if let Some(room) = lot.room() {
            *rooms.entry((room, lot.crop.clone())).or_default() += lot.left();
        }
    }
    rooms
}
