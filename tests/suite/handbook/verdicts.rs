//! Every scenario's verdict says what, why, how sure, what next and what would change it, in words
//! that a person reads, and what it names can be asked about.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Mutex;

use dryhold::case::{Case, Closes, Ending, Now};
use dryhold::evidence::wording::{Likelihood, in_words, word};
use dryhold::evidence::{Engine, Proof};
use dryhold::rehearsal::{Coverage, Measure, Outcome, Rehearsed, Scenario, rehearse};
use dryhold::report::{verdict, why};
use dryhold::terminal::Paper;
use dryhold::text::{Line, capital};

use super::checks::scenario;
use super::verdict_brief::in_brief;
use super::verdict_lines::{marks, prose_of, sides, stumbles};
use super::{handbook, yaml_below};

/// A verdict line by line, and what it is about.
pub(super) struct Told<'a> {
    pub(super) case: &'a Case<'a>,
    lines: Vec<String>,
    is_stopped: bool,
}

impl Told<'_> {
    pub(super) fn line(&self, begins: &str) -> Option<&str> {
        self.lines.iter().map(String::as_str).find(|line| line.starts_with(begins))
    }

    /// The lines under a heading, down to the next one.
    pub(super) fn under(&self, heading: &str) -> Vec<&str> {
        let from = self.lines.iter().position(|line| line.starts_with(heading));
        let rest = from.map_or(&[][..], |from| &self.lines[from + 1..]);
        rest.iter().map(String::as_str).take_while(|line| line.starts_with("- ")).collect()
    }

    pub(super) fn is_weighed(&self) -> bool {
        let assessment = self.case.assessment();
        let is_in_danger = matches!(self.case.now(), Now::Stopped { .. });
        assessment.has_evidence && !assessment.contradicts_itself && !is_in_danger
    }

    /// Whether readings that can't all be stand in the place of a verdict.
    pub(super) fn is_disputed(&self) -> bool {
        !self.case.assessment().disputed.is_empty()
    }
}

/// Every scenario is run; one in so many has its whole verdict read, which takes most of the time.
/// With `DRYHOLD_EVERY_VERDICT` set, all of them have.
const ONE_IN: usize = 4;

/// What a scenario expects and doesn't find.
fn misses_of(scenario: &Scenario, rehearsed: &Rehearsed<'_>) -> Vec<String> {
    let misses = format!("{}: {:?}", scenario.name, rehearsed.misses);
    unless(rehearsed.outcome == Outcome::Found, misses)
}

/// Whether two cases went the same way and stand at the same place.
fn is_same_way(one: &Case<'_>, other: &Case<'_>) -> bool {
    one.now() == other.now()
        && one.path() == other.path()
        && one.decided() == other.decided()
        && one.round_ends() == other.round_ends()
}

/// What is wrong with the verdict on a scenario.
fn faults_of(scenario: &Scenario, rehearsed: &Rehearsed<'_>) -> Vec<String> {
    let Rehearsed { case, ending, .. } = rehearsed;
    let mut faults = Vec::new();
    let lines = verdict(case, ending).iter().map(Line::to_text).collect();
    let told = Told { case, lines, is_stopped: matches!(ending, Ending::Stopped(_)) };
    let checks = [
        what,
        why_it_is_so,
        how_sure,
        what_next,
        what_would_change,
        after_repairs,
        wording,
        arithmetic,
        sides,
        marks,
    ];
    faults.extend(checks.iter().flat_map(|check| check(&told)));
    faults.extend(in_brief(case, ending));
    faults.extend(crate::reports::faults(case));
    faults.into_iter().map(|fault| format!("{}: {fault}", scenario.name)).collect()
}

#[test]
fn every_scenario_comes_out_as_expected_and_its_verdict_says_all() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let coverage = Mutex::new(Coverage::of(&handbook));
    let paths: Vec<_> = yaml_below("scenarios").into_iter().enumerate().collect();
    assert!(paths.len() > 300);
    let is_whole = std::env::var_os("DRYHOLD_EVERY_VERDICT").is_some();
    let one = |(order, path): &(usize, PathBuf)| {
        let scenario = scenario(path, &handbook);
        let rehearsed = rehearse(&scenario, &handbook, &engine);
        coverage.lock().unwrap().add(&rehearsed.case);
        let mut faults = misses_of(&scenario, &rehearsed);
        faults.extend(prose_of(&scenario, &rehearsed));
        if is_whole || order % ONE_IN == 0 {
            faults.extend(faults_of(&scenario, &rehearsed));
            let again = Case::replay(&handbook, &engine, rehearsed.case.events()).unwrap();
            faults.extend(unless(
                is_same_way(&again, &rehearsed.case),
                format!("{}: walked anew, the way is another", scenario.name),
            ));
        }
        faults
    };
    let one = &one;
    let found: Vec<String> = std::thread::scope(|scope| {
        let halves: Vec<_> = paths
            .chunks(paths.len().div_ceil(2))
            .map(|half| scope.spawn(move || half.iter().flat_map(one).collect::<Vec<_>>()))
            .collect();
        halves.into_iter().flat_map(|half| half.join().unwrap()).collect()
    });
    assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
    let coverage = coverage.into_inner().unwrap();
    for measured in coverage.measured() {
        let word = measured.measure.label();
        assert!(measured.of > 0, "{word}");
        // Some causes share their whole evidence with a more common one, which then leads.
        let is_of_verdicts = matches!(measured.measure, Measure::Causes | Measure::Cautions);
        assert!(is_of_verdicts || measured.missing.is_empty(), "{word}: {:?}", measured.missing);
        assert!(measured.is_at_least(60.0), "{word}: {:?}", measured.missing);
    }
}

pub(super) fn unless(is_so: bool, fault: impl Into<String>) -> Vec<String> {
    if is_so { Vec::new() } else { vec![fault.into()] }
}

/// Word and number in one sentence, its complement after it, and the referral at the end.
fn what(told: &Told<'_>) -> Vec<String> {
    let referral = told.line("The makers' instructions");
    let mut faults = unless(referral.is_some(), "no referral");
    if !told.is_weighed() {
        return faults;
    }
    let assessment = told.case.assessment();
    let is_proved = told.case.work_closed() == Some(Closes::Proved);
    if told.is_disputed() || !is_proved && told.case.owed().is_some() {
        let leads = ["Settled: ", "Not settled"].iter().any(|begins| told.line(begins).is_some());
        faults.extend(unless(!leads, "something leads before what has to be read again"));
        let is_said = told.line("Read again first: ").is_some();
        faults.extend(unless(is_said, "it isn't said which readings to read again"));
        return faults;
    }
    let begins = match (told.case.work_closed(), assessment.settled) {
        (Some(Closes::Proved), _) => "Beyond that proof: ",
        (_, true) => "Settled: ",
        (_, false) => "Not settled",
    };
    let Some(headline) = told.line(begins) else {
        return vec![format!("no headline: {begins}")];
    };
    // Behind a proof stands only what it does not show: how sure it is that nothing at all is wrong.
    if headline.starts_with("Beyond") {
        let nothing = in_words(assessment.nothing_wrong);
        faults.extend(unless(headline.contains(&nothing), format!("not sure: {headline}")));
        return faults;
    }
    let leading = if assessment.nothing_leads() {
        assessment.nothing_wrong
    } else {
        assessment.leader().unwrap().probability
    };
    faults.extend(unless(headline.contains(&in_words(leading)), format!("not sure: {headline}")));
    let complement = dryhold::evidence::wording::share(1.0 - leading);
    let is_complete = headline.to_lowercase().contains(&format!("{complement} that "));
    faults.extend(unless(is_complete, format!("no complement: {headline}")));
    let is_unlikely = word(leading) < Likelihood::Likely;
    let is_said = headline.contains("nothing stands out yet");
    faults.extend(unless(is_unlikely == is_said, format!("stands out: {headline}")));
    faults
}

const STRENGTHS: [&str; 5] = ["weak", "moderate", "strong", "very strong", "decisive"];

/// Reasons for and against, each with its strength; a lead that the evidence moved has one.
fn why_it_is_so(told: &Told<'_>) -> Vec<String> {
    if !told.is_weighed() || told.is_disputed() {
        return Vec::new();
    }
    let (speaks, against) =
        (told.under("What speaks for it"), told.under("What speaks against it"));
    let others = told.under("What speaks against others");
    let reasons = speaks.iter().chain(&others).chain(&against).copied();
    // What work took away is told by how often it does so.
    let is_of_work = |line: &&str| line.contains("Since it was found, ") && line.contains(" in ");
    let reasons: Vec<&str> = reasons.filter(|line| !is_of_work(line)).collect();
    let is_strong = |line: &&str| {
        STRENGTHS.iter().any(|word| {
            line.ends_with(&format!("({word} reason for it)"))
                || line.ends_with(&format!("({word} reason against it)"))
        })
    };
    let mut faults: Vec<String> = reasons
        .iter()
        .filter(|line| !is_strong(line))
        .map(|line| format!("a reason without strength: {line}"))
        .collect();
    let assessment = told.case.assessment();
    let all = if assessment.nothing_leads() {
        &told.case.reasons().for_nothing
    } else {
        &told.case.reasons().for_causes[assessment.leader().unwrap().cause.index()]
    };
    let is_moved = all.iter().any(|reason| reason.weight.nats().abs() >= 0.1);
    faults.extend(unless(!is_moved || !reasons.is_empty(), "evidence, and no reason"));
    let is_excused = told.line("Hardly anything answered").is_some() || is_moved;
    faults.extend(unless(is_excused || !reasons.is_empty(), "no reason, and it isn't said"));
    faults
}

/// Every cause named with a word and a number; said once that shares need not add up.
fn how_sure(told: &Told<'_>) -> Vec<String> {
    if !told.is_weighed() {
        return Vec::new();
    }
    let ranking = told.under("Ranking");
    let is_sure = |line: &&str| {
        Likelihood::ALL.iter().any(|word| line.contains(&format!(": {word} (")))
            && line.ends_with(" in 10)") | line.ends_with(" in 100)")
    };
    let mut faults: Vec<String> = ranking
        .iter()
        .filter(|line| !is_sure(line))
        .map(|line| format!("a rank without word and number: {line}"))
        .collect();
    let said = told.lines.iter().filter(|line| line.starts_with("Several faults can be")).count();
    faults.extend(unless(said == usize::from(ranking.len() > 2), "shares that don't add up"));
    faults
}

/// A repair, a next check, what to do where nothing is wrong, or a stop that says whom to ask.
fn what_next(told: &Told<'_>) -> Vec<String> {
    if told.is_stopped {
        let stop = told.line("Stopped for safety.").unwrap_or_default();
        return unless(stop.contains(" Ask "), format!("a stop that refers to nobody: {stop}"));
    }
    let contradicts = told.case.assessment().contradicts_itself;
    let headings = ["What to do about it", "What to check next", "What to do now"];
    let is_said = headings.iter().any(|heading| {
        !told.under(heading).is_empty() || {
            // A caution or a note may come before the first repair.
            told.line(heading).is_some()
        }
    });
    unless(is_said || contradicts, "nothing to do next")
}

fn what_would_change(told: &Told<'_>) -> Vec<String> {
    if told.is_stopped || !told.is_weighed() || told.is_disputed() {
        return Vec::new();
    }
    unless(!told.under("What would change this").is_empty(), "nothing said that would change it")
}

/// What a repair mended is said to have been the cause, with both its numbers, and does not lead.
fn after_repairs(told: &Told<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    if !told.is_weighed() {
        return faults;
    }
    let assessment = told.case.assessment();
    for (was, proof) in assessment.repaired() {
        let now = assessment.probability(was.cause);
        if word(was.probability) < Likelihood::Likely || word(now) == Likelihood::RoughlyEven {
            continue;
        }
        let name = capital(&told.case.cause_view(was.cause).in_short);
        let lead = match word(now) {
            low if low <= Likelihood::Unlikely && proof == Proof::NotRead => {
                "Repaired, and not read again since: "
            }
            low if low <= Likelihood::Unlikely && proof == Proof::StillShows => {
                "Repaired, and what showed it still shows: "
            }
            Likelihood::AlmostNoChance | Likelihood::VeryUnlikely => "Mended: ",
            Likelihood::Unlikely if now > 0.5 * was.probability => "Perhaps not mended: ",
            Likelihood::Unlikely => "Probably mended: ",
            _ => "Not mended yet: ",
        };
        let begins = format!("{lead}{name}");
        let ends = format!(
            ". That it was there at first: {}. That it is there now: {}.",
            in_words(was.probability),
            in_words(now)
        );
        // The part that it was made at may stand in between.
        let is_said = told.lines.iter().any(|line| {
            let part = line.strip_prefix(&begins).and_then(|rest| rest.strip_suffix(&ends));
            part.is_some_and(|part| part.is_empty() || part.starts_with(" ("))
        });
        faults.extend(unless(is_said, format!("not said: {begins}{ends}")));
    }
    faults
}

/// No ids, no false precision, no certainty, and rows that fit a narrow screen.
fn wording(told: &Told<'_>) -> Vec<String> {
    let paper = Paper::new(60, false);
    let mut faults = Vec::new();
    for line in &told.lines {
        // A command to be typed names its tree.
        let prose: String = line.split('`').step_by(2).collect();
        let words = || prose.split(|c: char| !c.is_alphanumeric() && c != '_');
        let is_id = |word: &str| word.trim_matches('_').contains('_');
        let has_decimals = line.match_indices(" %").any(|(at, _)| {
            let is_per_unit = line[at..].starts_with(" %/");
            let number: Vec<char> = line[..at].chars().rev().take_while(|c| *c != ' ').collect();
            !is_per_unit && number.contains(&'.')
        });
        let is_certain = ["about 0 in 10", "about 10 in 10", "100 %", "about 100 in 100"];
        faults.extend(stumbles(line));
        if words().any(is_id) {
            faults.push(format!("an id: {line}"));
        }
        if has_decimals {
            faults.push(format!("decimals: {line}"));
        }
        if is_certain.iter().any(|text| line.contains(text)) {
            faults.push(format!("certainty: {line}"));
        }
        let painted = paper.paint(&Line::plain(line));
        if painted.lines().any(|row| row.chars().count() > 60) {
            faults.push(format!("a row over 60 columns: {painted}"));
        }
    }
    faults
}

thread_local! {
    /// What has been asked about, each in the first case that names it: what stands behind a thing
    /// is worked out anew each time. Each half of the scenarios keeps its own, so that it is the
    /// same case each time, whichever half runs ahead.
    static ASKED: RefCell<BTreeSet<String>> = const { RefCell::new(BTreeSet::new()) };
}

/// Every cause, finding and question behind the verdict, every check and every repair shows its
/// numbers.
fn arithmetic(told: &Told<'_>) -> Vec<String> {
    let case = told.case;
    if !told.is_weighed() {
        return Vec::new();
    }
    let handbook = case.handbook();
    let is_named = |words: &str| told.lines.iter().any(|line| line.contains(words));
    let assessment = case.assessment();
    let ranked = assessment.ranking.iter().filter(|ranked| ranked.probability >= 0.05);
    let mut names: Vec<String> = ranked.map(|ranked| case.cause_view(ranked.cause).name).collect();
    let counting = assessment.witnesses.iter().filter(|witness| witness.counts());
    names.extend(counting.map(|witness| case.finding_name(witness.finding).to_owned()));
    let open = case.question_ids().map(|id| case.question_view(id).ask.to_text());
    let trees = handbook.trees().iter().map(|tree| tree.title.clone());
    names.extend(open.chain(trees).filter(|words| is_named(words)));
    let findings = handbook.findings().iter().filter_map(|finding| finding.name.clone());
    names.extend(findings.filter(|words| is_named(words)));
    let actions = handbook.action_ids().map(|id| case.action_view(id));
    names.extend(actions.filter(|view| is_named(&view.instruction.to_text())).map(|view| view.id));
    names.retain(|name| ASKED.with_borrow_mut(|asked| asked.insert(name.clone())));
    let mut faults = Vec::new();
    for name in names {
        match why(case, &name) {
            Ok(lines) => {
                let text: Vec<String> = lines.iter().map(Line::to_text).collect();
                let text = text.join("\n");
                let has_numbers = text.chars().any(|c| c.is_ascii_digit());
                faults.extend(unless(has_numbers, format!("why `{name}` has no number: {text}")));
            }
            Err(message) => faults.push(message),
        }
    }
    faults
}
