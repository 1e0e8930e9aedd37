//! Independent pieces of work on several threads, answers in the order of the pieces.

use std::num::NonZeroUsize;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What `work` makes of every index below `count`, in that order. Each piece is computed by one thread alone, so that the
/// answers are the same bits for any number of threads.
pub(crate) fn in_parallel<T: Send>(
    count: usize,
    threads: Option<NonZeroUsize>,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    let threads = threads.or_else(|| std::thread::available_parallelism().ok()).map_or(1, NonZeroUsize::get);
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::with_capacity(count)));
    let take = || {
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                break;
            }
            let answer = work(index);
            // A thread that panicked left whole answers only.
            done.lock().unwrap_or_else(std::sync::PoisonError::into_inner).push((index, answer));
        }
    };
    std::thread::scope(|scope| {
        for _ in 1..threads.min(count) {
            scope.spawn(take);
        }
        take();
    });
    let mut done = done.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, answer)| answer).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_piece_once_and_in_order() {
        for threads in [None, NonZeroUsize::new(1), NonZeroUsize::new(3), NonZeroUsize::new(50)] {
            assert_eq!(in_parallel(20, threads, |i| i * i), (0..20).map(|i| i * i).collect::<Vec<_>>());
            assert!(in_parallel(0, threads, |i| i).is_empty());
        }
    }
}
