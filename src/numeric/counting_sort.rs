//! Sorting by whole numbers that are not much larger than the items are many, in linear time.

/// The items in the order of their numbers below `n`, equal ones as they came.
pub(crate) fn sort_by_number<T: Copy>(n: usize, items: &[T], number: impl Fn(&T) -> usize) -> Vec<T> {
    let mut next = vec![0; n + 1];
    for item in items {
        next[number(item) + 1] += 1;
    }
    for k in 0..n {
        next[k + 1] += next[k];
    }
    let mut sorted = items.to_vec();
    for item in items {
        let place = &mut next[number(item)];
        sorted[*place] = *item;
        *place += 1;
    }
    sorted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_numbers_keep_their_order() {
        let items = [(2, 'a'), (0, 'b'), (2, 'c'), (3, 'd'), (0, 'e')];
        let sorted = sort_by_number(4, &items, |(number, _)| *number);
        assert_eq!(sorted, [(0, 'b'), (0, 'e'), (2, 'a'), (2, 'c'), (3, 'd')]);
        assert_eq!(sort_by_number(0, &[], |n: &usize| *n), []);
    }
}
