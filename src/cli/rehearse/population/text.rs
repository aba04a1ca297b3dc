//! A population for people: how often the lead was right, and how good the probabilities are.

use std::fmt::Write;

use super::Population;
use crate::rehearsal::rigged::population::{Calibrated, Interval, Score, Tally, groups};
use crate::text::count;

/// The whole page, within 78 columns.
pub(super) fn told(population: &Population<'_>) -> String {
    let tally = population.tally();
    let mut text = String::new();
    let name = &population.name;
    let rigs = count(population.scores.len(), "rig");
    let _ = writeln!(text, "{name}: {rigs}, seed {}", population.seed);
    if population.unmade > 0 {
        let _ = writeln!(text, "{} could not be made", count(population.unmade, "rig"));
    }
    if population.scores.is_empty() {
        return text;
    }
    overall(&mut text, population, &tally);
    hard_to_tell(&mut text, population);
    by_group(&mut text, population, &tally);
    confusion(&mut text, population, &tally);
    by_symptom(&mut text, &tally);
    calibration(&mut text, "The leading group", &tally.calibration_of_leader());
    calibration(&mut text, "Every cause", &tally.calibration_of_causes());
    text
}

fn percent(interval: Interval) -> String {
    let Interval { value, low, high } = interval;
    format!("{:5.1} % ({:.1} to {:.1})", 100.0 * value, 100.0 * low, 100.0 * high)
}

fn overall(text: &mut String, population: &Population<'_>, tally: &Tally<'_>) {
    let mut line = |what: &str, told: String| {
        let _ = writeln!(text, "  {what:<42} {told}");
    };
    let settled = tally.only(|score| score.is_settled);
    line("leading group right", percent(tally.bounded(|score| score.is_right_within(1))));
    line("one of the first two right", percent(tally.bounded(|score| score.is_right_within(2))));
    line("settled", percent(tally.bounded(|score| score.is_settled)));
    line("wrong when settled", percent(settled.bounded(|score| !score.is_right_within(1))));
    let for_the_job = |first| move |score: &Score| score.is_right_for_the_job_within(first);
    let hidden = tally.only(|score| !is_healthy(score) && !score.shows).scores().len();
    line("faults that don't show in the job", format!("{hidden:5}, so nothing needs doing there:"));
    line("  leading group right", percent(tally.bounded(for_the_job(1))));
    line("  one of the first two right", percent(tally.bounded(for_the_job(2))));
    line("  wrong when settled", percent(settled.bounded(|score| !for_the_job(1)(score))));
    let healthy = tally.only(is_healthy);
    line("sound rigs given a fault", percent(healthy.bounded(|score| !score.is_right_within(1))));
    let apart = tally.only(|score| !population.is_hard_to_tell(score));
    line("without causes that are hard to tell apart", count(apart.scores().len(), "rig"));
    line("  leading group right", percent(apart.bounded(|score| score.is_right_within(1))));
    let wet = tally.only(|score| population.is_wet_and_tight(score));
    let called = wet.bounded(|score| population.is_called_a_leak(score));
    line("wet tight systems called a leak", percent(called));
    line("stopped for safety", percent(tally.bounded(|score| score.is_stopped)));
    let (brier, loss) = tally.of_base_rates(&base_rates(population));
    let (own_brier, own_loss) = (tally.brier(), tally.log_loss());
    let told = |own: Interval, base: f64| {
        format!("{:7.4} ({:.4} to {:.4}); base rates {base:.4}", own.value, own.low, own.high)
    };
    line("Brier score per cause", told(own_brier, brier));
    line("log loss per cause, nat", told(own_loss, loss));
    line("minutes at the rig, median", format!("{:5.0}", tally.median(|score| score.minutes)));
    let questions = tally.median(|score| score.questions as f64);
    line("questions answered, median", format!("{questions:5.0}"));
    let refused: usize = tally.scores().iter().map(|score| score.refused).sum();
    let unsure: usize = tally.scores().iter().map(|score| score.unsure).sum();
    line("refusals of the rig, in all", format!("{refused:5}"));
    line("questions nobody could answer, in all", format!("{unsure:5}"));
}

/// The causes that are hard to tell apart, by the handbook's shares alone.
fn hard_to_tell(text: &mut String, population: &Population<'_>) {
    let _ = writeln!(text, "\nhard to tell apart by the handbook     nats a finding");
    for pair in &population.alike {
        let [one, other] = pair.causes.map(|id| population.handbook.cause(id).id.as_str());
        let _ = writeln!(text, "  {:<40} {:.2}", format!("{one}, {other}"), pair.nats);
    }
}

fn is_healthy(score: &Score) -> bool {
    !score.is_there.contains(&true)
}

/// The share of each cause in the population that the handbook expects.
pub(super) fn base_rates(population: &Population<'_>) -> Vec<f64> {
    population.handbook.causes().iter().map(|cause| cause.how_common).collect()
}

/// The names of the groups, and of nothing being wrong.
pub(super) fn names<'h>(population: &Population<'h>) -> Vec<&'h str> {
    let mut names = groups(population.handbook);
    names.push("nothing");
    names
}

/// For each group that is all that is wrong: how often it leads, is among the first two, settles.
fn by_group(text: &mut String, population: &Population<'_>, tally: &Tally<'_>) {
    let _ =
        writeln!(text, "\nwhere only this is wrong   rigs  leads  first two  settled  wrong then");
    for (place, name) in names(population).iter().enumerate() {
        let own = tally.only(|score| is_only(score, place));
        row(text, name, &own);
    }
    row(text, "two or more", &tally.only(|score| so_many(score) > 1));
    let _ =
        writeln!(text, "\ncauses, alone or not       rigs  leads  first two  settled  wrong then");
    for (place, cause) in population.handbook.causes().iter().enumerate() {
        row(text, &cause.id, &tally.only(|score| score.is_there[place]));
    }
}

fn row(text: &mut String, name: &str, tally: &Tally<'_>) {
    let number = tally.scores().len();
    if number == 0 {
        return;
    }
    let share = |share: f64| format!("{:.0} %", 100.0 * share);
    let leads = share(tally.share(|score| score.is_right_within(1)).value());
    let first_two = share(tally.share(|score| score.is_right_within(2)).value());
    let settled = share(tally.share(|score| score.is_settled).value());
    let then = tally.only(|score| score.is_settled);
    let wrong = share(then.share(|score| !score.is_right_within(1)).value());
    let _ = writeln!(
        text,
        "  {name:<24} {number:>5} {leads:>6} {first_two:>10} {settled:>8} {wrong:>11}"
    );
}

/// Whether this group, or nothing, is all that is so.
fn is_only(score: &Score, place: usize) -> bool {
    score.are_so[place] && so_many(score) == 1
}

fn so_many(score: &Score) -> usize {
    score.are_so.iter().filter(|is_so| **is_so).count()
}

/// For each group that is all that is wrong, what leads.
fn confusion(text: &mut String, population: &Population<'_>, tally: &Tally<'_>) {
    let names = names(population);
    let _ = writeln!(text, "\nwhere only this is wrong, what leads");
    for (place, name) in names.iter().enumerate() {
        let leaders = tally.only(|score| is_only(score, place)).leaders();
        let mut led: Vec<(usize, &str)> =
            leaders.into_iter().zip(names.iter().copied()).filter(|(n, _)| *n > 0).collect();
        led.sort_by_key(|(number, _)| std::cmp::Reverse(*number));
        if led.is_empty() {
            continue;
        }
        let told: Vec<String> =
            led.iter().map(|(number, name)| format!("{name} {number}")).collect();
        let _ = writeln!(text, "  {name:<16} {}", told.join(", "));
    }
}

fn by_symptom(text: &mut String, tally: &Tally<'_>) {
    let mut symptoms: Vec<&str> =
        tally.scores().iter().map(|score| score.symptom.as_str()).collect();
    symptoms.sort_unstable();
    symptoms.dedup();
    let _ =
        writeln!(text, "\nwhat is seen first         rigs  leads  first two  settled  wrong then");
    for symptom in symptoms {
        row(text, symptom, &tally.only(|score| score.symptom == symptom));
    }
}

fn calibration(text: &mut String, what: &str, bins: &[Calibrated]) {
    let _ = writeln!(text, "\n{what}: held at        number   mean     so");
    for bin in bins {
        let (low, high) = bin.bounds;
        let _ = writeln!(
            text,
            "  {low:>19.2} to {high:.2} {:>10} {:>6.3} {:>6.3}",
            bin.number, bin.held, bin.so
        );
    }
}
