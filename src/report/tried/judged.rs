//! Why a branch was taken, in values.

use crate::case::{Case, Decided};
use crate::evidence::{Reply, Worksheet};
use crate::formula::{Checked, Origin, Value, Verdict, verdict};
use crate::handbook::{Entry, Hazard, Next, Observes, Step, StepKind, Target};
use crate::report::percent::percent;
use crate::report::why::told;

/// A condition that was looked at, and how it came out.
pub(super) struct Judged {
    /// The condition as it is written.
    pub condition: String,
    /// `yes`, `no`, `too close` or `unknown`.
    pub verdict: &'static str,
    /// The share of draws that say yes, where it is known.
    pub share: Option<f64>,
    /// Why it is not known.
    pub unknown: Option<String>,
    /// The values on the way, innermost first.
    pub working: Vec<String>,
}

/// Why a step led where it did.
pub(super) struct Because {
    /// The conditions that were looked at, in order; the last one decided, unless none did.
    pub judged: Vec<Judged>,
    /// What decided, in words.
    pub decided: String,
    /// What doubt did, where it did anything.
    pub doubt: Option<String>,
}

impl Judged {
    /// The condition with how it came out: `p > 5 Pa: too close, yes in 40 % of the draws`.
    pub fn told(&self) -> String {
        let share = match (self.verdict, self.share) {
            (_, Some(share)) if share > 0.0 && share < 1.0 => {
                format!(", yes in {} of the draws", percent(share))
            }
            _ => self.unknown.as_ref().map_or_else(String::new, |why| format!(": {why}")),
        };
        format!("{}: {}{share}", self.condition, self.verdict)
    }
}

/// Why a step led where it did, judged on what was known then.
pub(super) fn because(case: &Case<'_>, decided: &Decided) -> Because {
    let step = case.handbook().tree(decided.place.tree).step(decided.place.step);
    if decided.is_by_bound {
        let most = step.bound.map_or(0, |(most, _)| most);
        return plain(format!("it may be run {most} times (at_most), so `then` follows"));
    }
    match &step.next {
        Next::ByAnswer { .. } => by_answer(case, step, decided),
        Next::ByRules { rules, too_close, unknown, .. } => {
            let sheet = case.worksheet_at(decided);
            let mut judged = Vec::new();
            for rule in rules {
                judged.push(judge(case, &sheet, &rule.condition));
                if let Some(last) = judged.last().filter(|one| one.verdict != "no") {
                    let (decided, doubt) = decision(last, too_close.as_ref(), unknown.as_ref());
                    return Because { judged, decided, doubt };
                }
            }
            Because { judged, decided: "no condition holds, so `else`".to_owned(), doubt: None }
        }
        Next::Always(_) | Next::Nothing => plain("always".to_owned()),
    }
}

fn plain(decided: String) -> Because {
    Because { judged: Vec::new(), decided, doubt: None }
}

fn decision(
    last: &Judged,
    too_close: Option<&Target>,
    unknown: Option<&Target>,
) -> (String, Option<String>) {
    let condition = &last.condition;
    match (last.verdict, last.share) {
        ("yes", share) => {
            let doubt = share.filter(|share| *share < 1.0).map(|share| {
                format!(
                    "some draws say no, but {} say yes, and nine of ten are enough",
                    percent(share)
                )
            });
            (format!("`{condition}` holds"), doubt)
        }
        ("too close", _) => {
            let way = if too_close.is_some() {
                "`too_close`"
            } else {
                "`else`, since there is no `too_close`"
            };
            let doubt = "neither yes nor no in nine of ten draws".to_owned();
            (format!("`{condition}` is too close, so {way}"), Some(doubt))
        }
        _ => {
            let way =
                if unknown.is_some() { "`unknown`" } else { "`else`, since there is no `unknown`" };
            (format!("`{condition}` can't be told, so {way}"), last.unknown.clone())
        }
    }
}

fn judge(case: &Case<'_>, sheet: &Worksheet<'_>, condition: &Checked) -> Judged {
    let text = one_line(condition.text());
    let value = sheet.evaluate(condition);
    let (word, share, unknown) = match &value {
        Value::Truth(draws) => match verdict(draws) {
            Verdict::Yes(share) => ("yes", Some(share), None),
            Verdict::No(share) => ("no", Some(share), None),
            Verdict::TooClose(share) => ("too close", Some(share), None),
            Verdict::Unknown => ("unknown", None, Some("too many draws don't know it".to_owned())),
        },
        Value::Unknown(why) => ("unknown", None, Some(why.to_string())),
        _ => ("unknown", None, None),
    };
    let mut working: Vec<String> = Vec::new();
    way(case, sheet, condition, 0, &mut working);
    Judged { condition: text, verdict: word, share, unknown, working }
}

/// How far names are followed down: a finding, the formula in it, and one more.
const DEEPEST: usize = 3;

/// Every value on the way to a condition's, and below it what the findings and formulas in it
/// stand on, each once.
fn way(
    case: &Case<'_>,
    sheet: &Worksheet<'_>,
    formula: &Checked,
    depth: usize,
    rows: &mut Vec<String>,
) {
    for step in formula.working(sheet) {
        let left_out = if matches!(step.origin, Origin::LeftOut) { ", left out" } else { "" };
        let value = told(&step.value, &step.kind, step.unit.as_ref());
        push(rows, depth, format!("{} = {value}{left_out}", step.text));
    }
    if depth == DEEPEST {
        return;
    }
    let handbook = case.handbook();
    for used in formula.uses() {
        let name = handbook.symbol_name(used.symbol);
        match handbook.entry(used.symbol) {
            Entry::Question(_) => {}
            Entry::Formula(id) => {
                let is = &handbook.formula(id).is;
                if push(rows, depth, format!("{name} is: {}", one_line(is.text()))) {
                    way(case, sheet, is, depth + 1, rows);
                }
            }
            Entry::Finding(id) => {
                let finding = handbook.finding(id);
                let Observes::When(when) = &finding.observes else { continue };
                if !push(rows, depth, format!("{name} is: {}", one_line(when.text()))) {
                    continue;
                }
                way(case, sheet, when, depth + 1, rows);
                if let Some(only_if) = &finding.only_if {
                    push(rows, depth, format!("{name} only if: {}", one_line(only_if.text())));
                    way(case, sheet, only_if, depth + 1, rows);
                }
            }
        }
    }
}

/// Adds a row that is not there yet, further in the deeper it is, and says whether it was not.
fn push(rows: &mut Vec<String>, depth: usize, row: String) -> bool {
    let is_new = !rows.iter().any(|known| known.trim_start() == row);
    if is_new {
        rows.push(format!("{}{row}", "  ".repeat(depth)));
    }
    is_new
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn by_answer(case: &Case<'_>, step: &Step, decided: &Decided) -> Because {
    let StepKind::Ask { question: id, .. } = &step.kind else { return plain("always".to_owned()) };
    let question = case.handbook().question(*id);
    let given = case
        .record()
        .answers(*id)
        .filter(|(_, given)| given.order < decided.known_until)
        .last()
        .map(|(_, given)| given);
    let Some(given) = given else {
        return plain("it has no answer, so the last branch".to_owned());
    };
    match (&given.reply, question.hazard) {
        (Reply::NotSure | Reply::Skipped, Some(hazard)) => {
            let worst = match hazard {
                Hazard::YesNo(yes) => if yes { "yes" } else { "no" }.to_owned(),
                Hazard::Choice(choice) => question.choice_label(choice.into()),
            };
            Because {
                judged: Vec::new(),
                decided: format!("`{}` counts as {worst}", question.id),
                doubt: Some("not sure counts as the dangerous answer".to_owned()),
            }
        }
        (Reply::NotSure | Reply::Skipped, None) => Because {
            judged: Vec::new(),
            decided: format!("`{}` is not known", question.id),
            doubt: Some("not sure goes where its own branch or the last answer leads".to_owned()),
        },
        _ => plain(format!("`{}` is {}", question.id, given.typed)),
    }
}
