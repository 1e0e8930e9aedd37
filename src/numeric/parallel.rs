//! Independent pieces of work on several threads, answers in the order of the pieces.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What `work` makes of every index below `count`, in that order; after an answer that `stops` no more is begun, so that
/// those behind it may be missing. Without a number of threads as many as the machine runs at once. Each piece is computed by
/// one thread alone: the answers are the same bits for any number.
pub(crate) fn in_parallel<T: Send>(
    count: usize,
    threads: Option<NonZeroUsize>,
    work: impl Fn(usize) -> T + Sync,
    stops: impl Fn(&T) -> bool + Sync,
) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let take = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                return done;
            }
            let answer = work(index);
            if stops(&answer) {
                // Indices are given out in order: every one before the first that stops is being worked on.
                next.fetch_max(count, Ordering::Relaxed);
            }
            done.push((index, answer));
        }
    };
    let threads = threads.or_else(|| std::thread::available_parallelism().ok()).map_or(1, NonZeroUsize::get);
    let mut all = std::thread::scope(|scope| {
        let others: Vec<_> = (1..threads.min(count)).map(|_| scope.spawn(take)).collect();
        let mut all = take();
        for other in others {
            match other.join() {
                Ok(done) => all.extend(done),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        all
    });
    all.sort_by_key(|(index, _)| *index);
    all.into_iter().map(|(_, answer)| answer).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_piece_once_and_in_order() {
        for threads in [None, NonZeroUsize::new(1), NonZeroUsize::new(3), NonZeroUsize::new(50)] {
            assert_eq!(in_parallel(20, threads, |i| i * i, |_| false), (0..20).map(|i| i * i).collect::<Vec<_>>());
            assert!(in_parallel(0, threads, |i| i, |_| false).is_empty());
            let some = in_parallel(1000, threads, |i| i, |i| *i == 100);
            assert_eq!(some[..=100], (0..=100).collect::<Vec<_>>());
        }
    }
}
