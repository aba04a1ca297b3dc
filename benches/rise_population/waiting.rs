//! What an undecided hold promises of its wait, against the wait that it takes.

use crate::hold_up_to;
use crate::invented::Log;
use crate::looking::percentile;
use dryhold::rise::{More, Reading, Verdict, read, read_without_forecast};
use std::io::Write;

/// An undecided hold of the first part of a log.
pub struct Promise {
    /// What was promised.
    more: Option<More>,
    /// Minutes until the first verdict; none within the log.
    needed: Option<f64>,
    /// Minutes of the log that were left.
    left: f64,
}

/// The promise after the first third of a log; none if it is decided by then.
pub fn promise(log: &Log) -> Option<Promise> {
    let begun = (log.minutes.len() / 3).max(5);
    let is_open = |reading: &Reading| reading.verdict == Verdict::CannotTell;
    let reading = read(&hold_up_to(log, begun)).ok().filter(is_open)?;
    let is_told = |count: &usize| {
        read_without_forecast(&hold_up_to(log, *count)).is_ok_and(|reading| !is_open(&reading))
    };
    let told = (begun + 1..=log.minutes.len()).find(is_told);
    let now = log.minutes[begun - 1];
    Some(Promise {
        more: reading.wait_more,
        needed: told.map(|count| log.minutes[count - 1] - now),
        left: log.duration - now,
    })
}

/// Prints promised against needed.
pub fn waiting(out: &mut impl Write, all: &[Promise]) -> std::io::Result<()> {
    writeln!(out, "\nundecided after a third of the log: {}", all.len())?;
    let told = |promise: &&Promise| promise.needed.is_some();
    let (promised, hopeless): (Vec<&Promise>, Vec<&Promise>) =
        all.iter().partition(|promise| promise.more.is_some());
    let of_hopeless = hopeless.iter().filter(|promise| told(promise)).count();
    writeln!(
        out,
        "waiting alone won't: {}, of which told within the log {of_hopeless}",
        hopeless.len()
    )?;
    let fits = |promise: &&&Promise| {
        promise
            .more
            .and_then(|more| more.latest)
            .is_some_and(|latest| latest / 60.0 <= promise.left)
    };
    let in_time: Vec<&&Promise> = promised.iter().filter(fits).collect();
    let kept = in_time.iter().filter(|promise| told(promise)).count();
    writeln!(out, "promised within the log {}, of which told {kept}", in_time.len())?;
    let pairs: Vec<(More, f64)> = promised
        .iter()
        .filter_map(|promise| Some((promise.more?, 60.0 * promise.needed?)))
        .collect();
    let ratios: Vec<f64> = pairs.iter().map(|(more, needed)| needed / middle(more)).collect();
    let inside = pairs.iter().filter(|(more, needed)| {
        *needed >= 0.5 * more.soonest && more.latest.is_none_or(|latest| *needed <= 1.5 * latest)
    });
    let inside = inside.count();
    writeln!(
        out,
        "needed over promised: median {:.2}, four in five from {:.2} to {:.2}; of {} told, {inside} \
         from half the soonest to one and a half times the latest",
        percentile(ratios.clone(), 0.5),
        percentile(ratios.clone(), 0.1),
        percentile(ratios, 0.9),
        pairs.len()
    )
}

fn middle(more: &More) -> f64 {
    libm::sqrt(more.soonest * more.latest.unwrap_or(more.soonest))
}
