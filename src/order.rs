//! Sorting by a number.
//!
//! The standard library's sorts are compiled anew for each kind of thing sorted, at some
//! 7 kB a kind; here only pairs of a number and a place are sorted.

/// Sorts `list` by what `number` gives for each entry, least first. Of equals the earlier
/// stays the earlier. Numbers compare as by `f64::total_cmp`.
pub fn sort_by_number<T>(list: &mut Vec<T>, number: impl Fn(&T) -> f64) {
    let mut pairs: Vec<(f64, usize)> = list.iter().map(number).zip(0..).collect();
    sort(&mut pairs);
    let mut slots: Vec<Option<T>> = list.drain(..).map(Some).collect();
    list.extend(pairs.iter().filter_map(|&(_, place)| slots[place].take()));
}

#[inline(never)]
fn sort(pairs: &mut [(f64, usize)]) {
    pairs.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_comes_first_and_equals_stay_in_order() {
        let mut list = vec![(2.0, 'a'), (f64::NAN, 'b'), (-1.0, 'c'), (2.0, 'd'), (0.5, 'e')];
        sort_by_number(&mut list, |entry| entry.0);
        let letters: String = list.iter().map(|entry| entry.1).collect();
        assert_eq!(letters, "ceadb", "by number, then as they were");
    }
}
