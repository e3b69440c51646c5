//! Lists in the order of their words.
//!
//! The standard library's sort is compiled anew for every type it sorts, three kilobytes each; a
//! phone downloads them all. Here words are sorted, once, and everything else follows them.

/// `items` in the order of their keys; equal keys stay as they were.
pub fn by_words<T>(items: impl IntoIterator<Item = T>, key: impl Fn(&T) -> String) -> Vec<T> {
    let items: Vec<T> = items.into_iter().collect();
    let places = places(items.iter().map(key).collect());
    let mut items: Vec<Option<T>> = items.into_iter().map(Some).collect();
    places.into_iter().filter_map(|place| items.get_mut(place)?.take()).collect()
}

/// `items` in the opposite order: the greatest key first.
pub fn by_words_down<T>(items: impl IntoIterator<Item = T>, key: impl Fn(&T) -> String) -> Vec<T> {
    let mut items = by_words(items, key);
    items.reverse();
    items
}

/// Where the keys stand, in their order.
fn places(keys: Vec<String>) -> Vec<usize> {
    let mut placed: Vec<(String, usize)> = keys.into_iter().zip(0..).collect();
    placed.sort_unstable();
    placed.into_iter().map(|(_, place)| place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_keys_stay_as_they_were() {
        let items = [("b", 1), ("a", 2), ("b", 3), ("a", 4)];
        let key = |item: &(&str, i32)| item.0.to_owned();
        assert_eq!(by_words(items, key), [("a", 2), ("a", 4), ("b", 1), ("b", 3)]);
        assert_eq!(by_words_down(items, key).first(), Some(&("b", 3)));
    }
}
