//! How well the reading of a rise tells leaks from moisture, on 1,000 invented logs.
//!
//!     cargo bench --bench rise_population
//!
//! Prints, per family of moisture and together: how many logs were decided (probability above
//! 0.9 or below 0.1) and how many of those wrongly, for sources faster than half the window and
//! leaks of none or above the rate that matters; what slower sources were called; how often the
//! 95 % interval held the true rate; the reliability of the probability, with bootstrap
//! intervals; how often somebody who looks at every new pressure stops wrongly; and how long an
//! undecided hold takes against what it promised, and a planned one. The method was tuned on other seeds than the
//! one printed.

mod invented;
mod looking;
mod planned;
mod score;
mod waiting;

use dryhold::rise::{GasResponse, Gauge, Hold, Surroundings, Verdict, read};
use invented::{DRIFT, Draws, FAMILIES, Log, MICRON, SCALE, log};
use looking::{Looked, looked, looking};
use planned::planning;
use score::{Judged, reliability};
use std::io::Write;
use waiting::{Promise, promise, waiting};

const SEED: u64 = 2_024;
const LOGS: usize = 1_000;
/// The rate that matters, micron/min.
const MATTERS: f64 = 5.0;

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout();
    let seed = std::env::var("SEED").ok().and_then(|text| text.parse().ok()).unwrap_or(SEED);
    let mut draws = Draws(seed);
    let begun = std::time::Instant::now();
    let logs: Vec<Log> = (0..LOGS).map(|number| log(&mut draws, number)).collect();
    let judged: Vec<Judged> = logs.iter().map(judge).collect();
    let spent = begun.elapsed().as_secs_f64();
    writeln!(out, "seed {seed}, {LOGS} logs, rate that matters {MATTERS} micron/min")?;
    writeln!(out, "{:.2} ms for a reading\n", 1e3 * spent / LOGS as f64)?;
    fast(&mut out, &judged)?;
    slow(&mut out, &judged)?;
    others(&mut out, &judged)?;
    reliability(&mut out, &judged, &mut draws)?;
    let looked: Vec<Looked> = logs.iter().map(looked).collect();
    looking(&mut out, &looked)?;
    let promises: Vec<Promise> = logs.iter().filter_map(promise).collect();
    waiting(&mut out, &promises)?;
    planning(&mut out, &mut draws)
}

/// The first readings of a log as a hold.
fn hold_up_to(log: &Log, count: usize) -> Hold {
    let times = log.minutes[..count].iter().map(|minute| 60.0 * minute).collect();
    let pressures = log.micron[..count].iter().map(|micron| MICRON * micron).collect();
    let response = GasResponse::Independent;
    let gauge = Gauge { scale_doubt: SCALE, response, ..Gauge::default() };
    let mut hold = Hold::new(times, pressures, gauge, MATTERS * MICRON / 60.0);
    hold.surroundings = Surroundings { drift: DRIFT, ..Surroundings::default() };
    hold
}

fn judge(log: &Log) -> Judged {
    let rate = MICRON / 60.0;
    let reading = read(&hold_up_to(log, log.minutes.len())).ok();
    let probability = reading.as_ref().map_or(0.5, |reading| reading.straight);
    let covers =
        |range: dryhold::rise::Range| range.low <= log.leak * rate && log.leak * rate <= range.high;
    Judged {
        probability,
        verdict: reading.as_ref().map_or(Verdict::CannotTell, |reading| reading.verdict),
        is_covered: reading.as_ref().is_none_or(|reading| covers(reading.rate)),
        is_refused: reading.is_none(),
        told_minutes: reading.as_ref().map_or(0.0, |reading| reading.slowest_told / 60.0),
        leak: log.leak,
        matters: MATTERS,
        family: log.family,
        time_constant: log.time_constant,
        duration: log.duration,
    }
}

fn rows() -> impl Iterator<Item = (&'static str, Option<Option<usize>>)> {
    let families = FAMILIES.iter().enumerate().map(|(k, name)| (*name, Some(Some(k))));
    [("dry", Some(None))].into_iter().chain(families).chain([("together", None)])
}

fn fast(out: &mut impl Write, judged: &[Judged]) -> std::io::Result<()> {
    writeln!(
        out,
        "sources faster than half the window, leaks of none or above the rate that matters"
    )?;
    writeln!(
        out,
        "{:<12} {:>5} {:>9} {:>7} {:>7} {:>9}",
        "family", "logs", "decided", "wrong", "missed", "covered"
    )?;
    for (name, family) in rows() {
        let of = |log: &&Judged| log.is_in_scope() && family.is_none_or(|f| f == log.family);
        let logs: Vec<&Judged> = judged.iter().filter(of).collect();
        let decided: Vec<&&Judged> = logs.iter().filter(|log| log.is_decided()).collect();
        let wrong = decided.iter().filter(|log| log.is_wrong()).count();
        let missed = decided.iter().filter(|log| log.is_wrong() && log.matters()).count();
        let covered = logs.iter().filter(|log| log.is_covered).count();
        let share = |count: usize, all: usize| 100.0 * count as f64 / all.max(1) as f64;
        writeln!(
            out,
            "{name:<12} {:>5} {:>7.1} % {wrong:>7} {missed:>7} {:>7.1} %",
            logs.len(),
            share(decided.len(), logs.len()),
            share(covered, logs.len())
        )?;
    }
    Ok(())
}

fn slow(out: &mut impl Write, judged: &[Judged]) -> std::io::Result<()> {
    writeln!(out, "\nmoisture slower than half the window, no leak")?;
    writeln!(
        out,
        "{:<12} {:>5} {:>9} {:>12} {:>10} {:>13}",
        "family", "logs", "straight", "cannot tell", "levelling", "told rightly"
    )?;
    for (name, family) in rows().skip(1) {
        let of = |log: &&Judged| {
            log.is_slow() && log.leak == 0.0 && family.is_none_or(|f| f == log.family)
        };
        let logs: Vec<&Judged> = judged.iter().filter(of).collect();
        let count = |is: fn(&Judged) -> bool| logs.iter().filter(|log| is(log)).count();
        let straight = count(|log| log.is_called_straight());
        let cannot = count(|log| log.verdict == Verdict::CannotTell);
        let right = count(|log| log.is_told_rightly());
        writeln!(
            out,
            "{name:<12} {:>5} {straight:>9} {cannot:>12} {:>10} {right:>6} of {straight}",
            logs.len(),
            logs.len() - straight - cannot
        )?;
    }
    Ok(())
}

fn others(out: &mut impl Write, judged: &[Judged]) -> std::io::Result<()> {
    let quiet: Vec<&Judged> =
        judged.iter().filter(|log| log.leak == 0.0 && log.family.is_none()).collect();
    let called = quiet.iter().filter(|log| log.is_called_straight()).count();
    writeln!(out, "\nquiet called straight: {called} of {}", quiet.len())?;
    let swift: Vec<&Judged> = judged.iter().filter(|log| !log.is_slow()).collect();
    let covered = swift.iter().filter(|log| log.is_covered).count();
    writeln!(
        out,
        "95 % interval covers, all leaks, no slow source: {:.1} % of {}",
        100.0 * covered as f64 / swift.len() as f64,
        swift.len()
    )?;
    let refused = judged.iter().filter(|log| log.is_refused).count();
    writeln!(out, "refused as falling: {refused}")?;
    Ok(())
}
