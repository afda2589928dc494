//! Many prints at once.
//!
//! The library that sets pages shares its own work out on a pool of threads. A print must
//! not stand in that same pool: while it waited for a part of its page, its thread would
//! begin another print on top of the first, and so on until the stack is full. So each
//! core has a thread of its own here, with room for the deepest page.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

/// Room for the deepest page, in bytes.
const STACK: usize = 32 << 20;

/// Does a piece of work for each item, on all cores; what comes of it stands in the order
/// of the items.
pub fn each<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<(usize, R)>> = Mutex::new(Vec::with_capacity(items.len()));
    let take = || {
        while let index = next.fetch_add(1, Ordering::Relaxed)
            && let Some(item) = items.get(index)
        {
            let result = work(item);
            done.lock().unwrap_or_else(PoisonError::into_inner).push((index, result));
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..cores.min(items.len()) {
            let thread = std::thread::Builder::new().stack_size(STACK);
            // Where no thread can be had, the others, or this one, do its part.
            let _ = thread.spawn_scoped(scope, take);
        }
    });
    take();
    let mut done = done.into_inner().unwrap_or_else(PoisonError::into_inner);
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn results_stand_in_the_order_of_the_items() {
        let items: Vec<usize> = (0..1000).collect();
        assert_eq!(
            super::each(&items, |item| item * 2),
            items.iter().map(|it| it * 2).collect::<Vec<_>>()
        );
        assert!(super::each(&[] as &[u8], |item| *item).is_empty());
    }
}
