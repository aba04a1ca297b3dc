//! Working on many things on all of the machine's cores.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::channel;
use std::thread::{Builder, available_parallelism, scope};

use anyhow::{Context, Result};

/// The stack of each worker, in bytes: that of a main thread on common systems (memory).
const STACK: usize = 8 << 20;

/// Works on every item, and hands over what comes of each in the order of the items, whichever is
/// done first.
///
/// # Errors
/// The first of `take`, after which no more is handed over; or that no thread could be started.
pub(super) fn in_order<T: Sync, R: Send>(
    items: &[T],
    work: impl Fn(&T) -> R + Sync,
    mut take: impl FnMut(R) -> Result<()>,
) -> Result<()> {
    let cores = available_parallelism().map_or(1, usize::from).min(items.len());
    let next = AtomicUsize::new(0);
    scope(|threads| {
        let (send, receive) = channel();
        for _ in 0..cores {
            let (send, next, work) = (send.clone(), &next, &work);
            let worker = move || {
                loop {
                    let place = next.fetch_add(1, Ordering::Relaxed);
                    let Some(item) = items.get(place) else { break };
                    // Nobody takes it any more where an earlier one was refused.
                    if send.send((place, work(item))).is_err() {
                        break;
                    }
                }
            };
            Builder::new()
                .stack_size(STACK)
                .spawn_scoped(threads, worker)
                .context("the work can't be shared out")?;
        }
        drop(send);
        let (mut early, mut due) = (BTreeMap::new(), 0);
        for (place, done) in receive {
            early.insert(place, done);
            while let Some(done) = early.remove(&due) {
                due += 1;
                take(done)?;
            }
        }
        Ok(())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_is_handed_over_in_order() {
        let items: Vec<u64> = (0..50).collect();
        let mut taken = Vec::new();
        let work = |item: &u64| {
            std::thread::sleep(std::time::Duration::from_micros((50 - item) * 20));
            item * 2
        };
        in_order(&items, work, |done| {
            taken.push(done);
            Ok(())
        })
        .unwrap();
        assert_eq!(taken, items.iter().map(|item| item * 2).collect::<Vec<_>>());
        in_order(&[], work, |_| anyhow::bail!("nothing to take")).unwrap();
    }

    #[test]
    fn nothing_is_handed_over_after_a_refusal() {
        let items: Vec<usize> = (0..40).collect();
        let mut taken = 0;
        let ran = in_order(
            &items,
            |item| *item,
            |done| {
                taken += 1;
                if done == 3 { Err(anyhow::anyhow!("enough")) } else { Ok(()) }
            },
        );
        assert_eq!((ran.unwrap_err().to_string(), taken), ("enough".to_owned(), 4));
    }
}
