//! The verdict in brief: short enough for a screen, and without a caution, a stop or a doubt less.

use dryhold::case::{ActionId, Case, Closes, Ending, Now};
use dryhold::evidence::wording::{Likelihood, word};
use dryhold::report::{Brevity, verdict, verdict_in_brief};
use dryhold::terminal::Paper;
use dryhold::text::{Line, Role};

use super::verdicts::unless;

/// The most rows of the briefest form on 80 columns (limit of ours: what a person scrolls through
/// once). One part of a rig that was read adds a line of its own, and a plan stands whole.
const MOST_ROWS: usize = 45;

/// The most rows beside cautions where the cautions of one repair take more than that (limit of
/// ours): none of them is cut.
const MOST_BESIDE_CAUTIONS: usize = 32;

/// What the verdict in brief lacks that it may not.
pub(super) fn in_brief(case: &Case<'_>, ending: &Ending) -> Vec<String> {
    let texts = |lines: &[Line]| -> Vec<String> { lines.iter().map(Line::to_text).collect() };
    let whole = verdict(case, ending);
    let mut faults = Vec::new();
    for brevity in [Brevity::Brief, Brevity::Briefer, Brevity::Briefest] {
        let lines = verdict_in_brief(case, ending, brevity);
        let brief = texts(&lines);
        let is_kept = |begins: &str| {
            let told = whole.iter().map(Line::to_text).filter(|line| line.starts_with(begins));
            told.filter(|line| !brief.contains(line)).collect::<Vec<String>>()
        };
        let headings = ["Stopped", "Settled: ", "Not settled", "Read again first: ", "Beyond that"];
        let others = ["Two things at once: ", "Not done yet: ", "The makers' instructions"];
        for begins in headings.iter().chain(&others) {
            faults.extend(is_kept(begins).into_iter().map(|line| format!("not in brief: {line}")));
        }
        faults.extend(called_in(&whole).into_iter().filter_map(|line| {
            (!brief.contains(&line)).then(|| format!("nobody is called in, in brief: {line}"))
        }));
        faults.extend(uncautioned(case, &brief));
        faults.extend(without_repair(case, ending, &brief));
        let unnamed = |line: &&String| {
            line.starts_with("- Then the repair itself")
                && !line.contains("until this can be said: ")
        };
        faults.extend(brief.iter().find(unnamed).map(|line| format!("which repair: {line}")));
        faults.extend(weaker_first(&texts(&whole), &brief));
    }
    let briefest = verdict_in_brief(case, ending, Brevity::Briefest);
    let parts = case.round_ends().len() + case.plans().len();
    let warns = |line: &&Line| line.pieces.iter().any(|piece| piece.role == Role::Warning);
    let cautions: Vec<Line> = briefest.iter().filter(warns).cloned().collect();
    let beside = rows(&briefest) - rows(&cautions);
    let is_short = rows(&briefest) <= MOST_ROWS || beside <= MOST_BESIDE_CAUTIONS;
    let is_short = parts > 0 || is_short;
    faults.extend(unless(is_short, format!("{} rows in brief", rows(&briefest))));
    faults
}

/// A likely cause beside which no repair stands, though there is one.
fn without_repair(case: &Case<'_>, ending: &Ending, lines: &[String]) -> Option<String> {
    let assessment = case.assessment();
    let leads = assessment.leader().filter(|_| !assessment.nothing_leads())?;
    let is_likely = word(leads.probability) >= Likelihood::Likely;
    let is_left_alone = matches!(ending, Ending::Stopped(_))
        || matches!(case.now(), Now::Stopped { .. } | Now::Act { .. })
        || case.closes() == Some(Closes::Waits)
        || !assessment.disputed.is_empty();
    let has_repair = !case.insight().repairs.steps.is_empty();
    let is_told = lines.iter().any(|line| line.starts_with("What to do about it"));
    (is_likely && has_repair && !is_left_alone && !is_told)
        .then(|| "a likely cause without its repair in brief".to_owned())
}

/// Weak reasons told in brief, where the whole verdict has a moderate one on the same side.
fn weaker_first(whole: &[String], brief: &[String]) -> Option<String> {
    let (weak, moderate) = ("(weak reason for it)", "(moderate reason for it)");
    let under = |lines: &[String], heading: &str| -> Vec<String> {
        let from = lines.iter().position(|line| line.starts_with(heading));
        let rest = from.map_or(&[][..], |from| &lines[from + 1..]);
        rest.iter().take_while(|line| line.starts_with("- ")).cloned().collect()
    };
    let missed = under(whole, "What speaks for it").into_iter().find(|line| {
        line.ends_with(moderate) && !line.starts_with("- As first found") && !brief.contains(line)
    });
    let told = under(brief, "What weighs most for it");
    let is_weak = |line: &String| line.ends_with(weak) && !line.starts_with("- As first found");
    missed.filter(|_| told.iter().any(is_weak)).map(|line| format!("left out in brief: {line}"))
}

/// The matters of safety for which somebody is called in.
fn called_in(lines: &[Line]) -> Vec<String> {
    let is_heading = |line: &&Line| line.to_text().starts_with("Call somebody in");
    let from = lines.iter().position(|line| is_heading(&line)).map_or(lines.len(), |at| at + 1);
    let warns = |line: &&Line| line.pieces.iter().any(|piece| piece.role == Role::Warning);
    lines[from..].iter().take_while(warns).map(Line::to_text).collect()
}

/// What is told to be done and lacks one of its cautions before it.
fn uncautioned(case: &Case<'_>, lines: &[String]) -> Vec<String> {
    let mut faults = Vec::new();
    let actions: Vec<ActionId> = case.handbook().action_ids().collect();
    // What the way waits for has its cautions, and those of its tree, at the head.
    let awaited = match case.now() {
        Now::Act { action, .. } => Some(*action),
        _ => None,
    };
    for action in actions.into_iter().filter(|action| Some(*action) != awaited) {
        let view = case.action_view(action);
        let told = format!("- {}", view.instruction.to_text());
        let Some(at) = lines.iter().position(|line| line.starts_with(&told)) else { continue };
        for caution in view.cautions {
            let text = caution.text.to_text();
            let is_before = lines[..at].iter().any(|line| line.contains(&text));
            faults.extend(unless(is_before, format!("{} without {}", view.id, caution.id)));
        }
    }
    faults
}

/// The rows that lines take on 80 columns, with one before each heading.
fn rows(lines: &[Line]) -> usize {
    let paper = Paper::new(80, false);
    let is_heading = |line: &Line| matches!(&line.pieces[..], [one] if one.role == Role::Strong);
    let rows = |line: &Line| paper.paint(line).lines().count() + usize::from(is_heading(line));
    lines.iter().map(rows).sum()
}
