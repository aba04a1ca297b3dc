//! Each log read at every new pressure: how often the moment to stop is wrong.

use crate::invented::Log;
use crate::{MATTERS, hold_up_to};
use dryhold::rise::stopping::{Standing, Watch};
use dryhold::rise::{Missing, Verdict, read_without_forecast};
use std::io::Write;

/// When one would stop, in minutes, and whether for a straight part.
type Stop = Option<(f64, bool)>;

/// A log's truth beside the moments to stop.
pub struct Looked {
    leak: f64,
    is_moist: bool,
    is_slow: bool,
    duration: f64,
    /// At the first verdict.
    first: Stop,
    /// As `Watch` says.
    watched: Stop,
}

/// Reads a log from the fewest pressures on.
pub fn looked(log: &Log) -> Looked {
    let mut watch = Watch::default();
    let (mut first, mut watched) = (None, None);
    for count in Missing::FEWEST..=log.minutes.len() {
        let minute = log.minutes[count - 1];
        let reading = read_without_forecast(&hold_up_to(log, count)).ok();
        let said = reading.as_ref().and_then(|reading| side(reading.verdict));
        first = first.or(said.map(|said| (minute, said)));
        if let Standing::Settled { verdict } = watch.look(60.0 * minute, reading.as_ref()) {
            watched = watched.or(side(verdict).map(|said| (minute, said)));
        }
    }
    Looked {
        leak: log.leak,
        is_moist: log.family.is_some(),
        is_slow: log.time_constant >= 0.5 * log.duration,
        duration: log.duration,
        first,
        watched,
    }
}

fn side(verdict: Verdict) -> Option<bool> {
    match verdict {
        Verdict::Straight | Verdict::Both => Some(true),
        Verdict::Quiet | Verdict::Levelling => Some(false),
        Verdict::CannotTell => None,
    }
}

/// Prints the shares of wrong stops per truth and together.
pub fn looking(out: &mut impl Write, all: &[Looked]) -> std::io::Result<()> {
    writeln!(
        out,
        "\nread at every new pressure, same scope: stopped at the first verdict, or as Watch says"
    )?;
    writeln!(
        out,
        "{:<9} {:>5} | {:>8} {:>12} {:>7} | {:>8} {:>12} {:>7}",
        "truth", "logs", "stopped", "wrong", "minute", "stopped", "wrong", "minute"
    )?;
    let truths = [(false, false), (true, false), (false, true), (true, true)];
    let names = ["quiet", "leak", "moisture", "both"];
    let in_scope = |log: &&Looked| !log.is_slow && (log.leak == 0.0 || log.leak > MATTERS);
    for (name, truth) in names.iter().zip(truths) {
        let is_so = |log: &&Looked| (log.leak > 0.0, log.is_moist) == truth;
        let logs: Vec<&Looked> = all.iter().filter(in_scope).filter(is_so).collect();
        row(out, name, &logs)?;
    }
    let logs: Vec<&Looked> = all.iter().filter(in_scope).collect();
    row(out, "together", &logs)?;
    later(out, &logs)?;
    let slow = all.iter().filter(|log| log.is_slow && log.leak == 0.0);
    let called = slow.clone().filter(|log| log.watched.is_some_and(|(_, said)| said)).count();
    writeln!(out, "slow moisture that Watch settles as straight: {called} of {}", slow.count())
}

fn row(out: &mut impl Write, name: &str, logs: &[&Looked]) -> std::io::Result<()> {
    write!(out, "{name:<9} {:>5}", logs.len())?;
    for of in [(|log| log.first) as fn(&Looked) -> Stop, |log| log.watched] {
        let stops: Vec<(f64, bool)> = logs
            .iter()
            .filter_map(|log| of(log).map(|stop| (stop.0, stop.1 != (log.leak > 0.0))))
            .collect();
        let wrong = stops.iter().filter(|stop| stop.1).count();
        let share = |count: usize, of: usize| 100.0 * count as f64 / of.max(1) as f64;
        let minute = percentile(stops.iter().map(|stop| stop.0).collect(), 0.5);
        let stopped = share(stops.len(), logs.len());
        let missed = format!("{wrong} {:.1} %", share(wrong, stops.len()));
        write!(out, " | {stopped:>6.1} % {missed:>12} {minute:>7.0}")?;
    }
    writeln!(out)
}

/// How much later than the first verdict, among the logs that Watch settles.
fn later(out: &mut impl Write, logs: &[&Looked]) -> std::io::Result<()> {
    let both = logs.iter().filter_map(|log| Some((log.first?.0, log.watched?.0)));
    let later: Vec<f64> = both.map(|(first, watched)| watched - first).collect();
    let left: f64 =
        logs.iter().map(|log| log.watched.map_or(0.0, |stop| log.duration - stop.0)).sum();
    let whole: f64 = logs.iter().map(|log| log.duration).sum();
    writeln!(
        out,
        "Watch stops {:.0} min later than the first verdict (median; nine in ten below {:.0} min), \
         and saves {:.0} % of all minutes",
        percentile(later.clone(), 0.5),
        percentile(later, 0.9),
        100.0 * left / whole
    )
}

/// The value below which a share of the values lies; zero of none.
pub fn percentile(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let last = values.len().saturating_sub(1) as f64;
    values.get((share * last).round() as usize).copied().unwrap_or(0.0)
}
