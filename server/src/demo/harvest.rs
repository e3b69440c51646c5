//! The bins of the demo: where, what, how much, by whom, and how long ago. All invented.

use shared_types::units::Grams;

use super::holding::*;
use super::writer::Who;

/// One bin to be kept.
#[derive(Clone, Copy)]
pub(super) struct BinRow {
    pub(super) who: Who,
    pub(super) place: usize,
    pub(super) variety: usize,
    pub(super) class: &'static str,
    pub(super) net: Grams,
    pub(super) bin_type: usize,
    pub(super) defect: Option<&'static str>,
}

const fn row(
    who: Who,
    place: usize,
    variety: usize,
    class: &'static str,
    net: i64,
    bin_type: usize,
) -> BinRow {
    BinRow { who, place, variety, class, net: Grams(net), bin_type, defect: None }
}

const fn with(defect: &'static str, row: BinRow) -> BinRow {
    BinRow { defect: Some(defect), ..row }
}

/// A week ago, before the frost: the first clear-out.
pub(super) const FIRST: [BinRow; 22] = [
    row(0, BED_1, PASTE, "ripe", 8_400, LUG),
    row(0, BED_1, PASTE, "ripe", 7_900, LUG),
    row(1, BED_1, PASTE, "colouring", 9_600, LUG),
    row(1, BED_1, PASTE, "colouring", 10_200, LUG),
    row(0, BED_1, PASTE, "green", 10_800, LUG),
    row(2, BED_1, PASTE, "green", 11_100, LUG),
    row(2, BED_2, SALAD, "ripe", 5_200, BUCKET),
    row(2, BED_2, SALAD, "ripe", 4_900, BUCKET),
    row(1, BED_2, SALAD, "colouring", 5_800, BUCKET),
    row(1, BED_2, SALAD, "colouring", 6_000, BUCKET),
    row(2, BED_2, SALAD, "green", 5_500, BUCKET),
    with("split", row(0, BED_2, SALAD, "hurt", 1_300, BUCKET)),
    row(0, BED_5, CHERRY, "ripe", 3_600, BUCKET),
    row(0, BED_5, CHERRY, "colouring", 4_100, BUCKET),
    row(1, BED_5, CHERRY, "green", 4_800, BUCKET),
    with("blossom_end_rot", row(1, BED_5, CHERRY, "hurt", 900, BUCKET)),
    row(2, SQUASH_BANK, BUTTERCUP, "ripe", 13_200, CRATE),
    row(2, SQUASH_BANK, BUTTERCUP, "ripe", 12_800, CRATE),
    row(1, SQUASH_BANK, BUTTERCUP, "ripe", 11_600, CRATE),
    with("gnawed", row(1, SQUASH_BANK, BUTTERCUP, "hurt", 3_100, CRATE)),
    row(0, ONION_ROW, KEEPER, "sound", 12_400, CRATE),
    row(0, ONION_ROW, KEEPER, "sound", 11_900, CRATE),
];

/// Today, after it: the last clear-out.
pub(super) const LAST: [BinRow; 25] = [
    row(0, BED_3, PASTE, "ripe", 6_300, LUG),
    row(1, BED_3, PASTE, "colouring", 10_400, LUG),
    row(2, BED_3, PASTE, "green", 10_900, LUG),
    row(0, BED_3, PASTE, "ripe", 5_700, LUG),
    row(1, BED_3, PASTE, "colouring", 9_100, LUG),
    row(2, BED_3, PASTE, "green", 11_000, LUG),
    row(0, BED_3, PASTE, "colouring", 8_200, LUG),
    with("blossom_end_rot", row(1, BED_3, PASTE, "hurt", 1_200, BUCKET)),
    row(2, BED_3, PASTE, "green", 7_600, LUG),
    row(0, BED_2, SALAD, "ripe", 4_400, BUCKET),
    row(1, BED_2, SALAD, "colouring", 5_600, BUCKET),
    row(2, BED_2, SALAD, "green", 5_900, BUCKET),
    row(1, BED_2, SALAD, "green", 3_800, BUCKET),
    row(0, BED_2, BELL, "ripe", 2_600, BUCKET),
    row(0, BED_2, BELL, "colouring", 3_300, BUCKET),
    row(2, BED_2, BELL, "green", 4_700, BUCKET),
    row(1, BED_5, CHERRY, "ripe", 3_900, BUCKET),
    row(1, BED_5, CHERRY, "ripe", 2_800, BUCKET),
    row(2, BED_5, CHERRY, "colouring", 4_600, BUCKET),
    row(2, BED_5, CHERRY, "green", 5_100, BUCKET),
    with("frost", row(1, BED_5, CHERRY, "hurt", 2_200, BUCKET)),
    row(0, BED_1, PASTE, "colouring", 7_400, LUG),
    row(0, BED_1, PASTE, "green", 9_300, LUG),
    row(1, BED_1, PASTE, "ripe", 3_100, BUCKET),
    with("gnawed", row(2, BED_1, PASTE, "hurt", 800, BUCKET)),
];

/// A year ago: last season's clear-out, long since eaten.
pub(super) const PAST: [BinRow; 14] = [
    row(0, BED_1, PASTE, "ripe", 7_200, LUG),
    row(0, BED_1, PASTE, "colouring", 8_800, LUG),
    row(1, BED_1, PASTE, "green", 9_900, LUG),
    row(1, BED_2, SALAD, "ripe", 6_100, LUG),
    row(2, BED_2, SALAD, "colouring", 7_700, LUG),
    row(2, BED_2, SALAD, "green", 9_400, LUG),
    row(0, BED_3, PASTE, "ripe", 5_500, BUCKET),
    row(1, BED_3, PASTE, "colouring", 9_000, LUG),
    row(1, BED_3, PASTE, "green", 10_700, LUG),
    with("blossom_end_rot", row(2, BED_5, CHERRY, "hurt", 1_900, BUCKET)),
    row(2, BED_5, CHERRY, "ripe", 3_300, BUCKET),
    row(0, SQUASH_BANK, BUTTERCUP, "ripe", 12_100, CRATE),
    row(0, SQUASH_BANK, BUTTERCUP, "ripe", 10_400, CRATE),
    row(1, ONION_ROW, KEEPER, "sound", 11_500, CRATE),
];
