//! Two pieces of work that don't wait for each other.

use std::panic::resume_unwind;
use std::thread::{Builder, scope};

/// Both pieces of work: the first on a thread of its own, where one is to be had, while the second
/// is done here.
pub(super) fn side_by_side<One: Send, Other>(
    one: impl Fn() -> One + Sync,
    other: impl FnOnce() -> Other,
) -> (One, Other) {
    scope(|scope| {
        let beside = Builder::new().spawn_scoped(scope, &one);
        let other = other();
        let one = match beside {
            Ok(thread) => thread.join().unwrap_or_else(|panic| resume_unwind(panic)),
            Err(_) => one(),
        };
        (one, other)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn both_are_done_once_whichever_is_done_first() {
        let (times, here) = (AtomicUsize::new(0), Cell::new(0));
        let one = || times.fetch_add(1, Ordering::Relaxed) + 1;
        let other = || {
            here.set(here.get() + 1);
            "other"
        };
        assert_eq!(side_by_side(one, other), (1, "other"));
        assert_eq!((times.into_inner(), here.get()), (1, 1));
    }
}
