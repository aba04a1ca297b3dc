//! Why a case ends differently: findings that stand otherwise, and the entries behind them and
//! behind the causes that moved.

use std::collections::BTreeSet;

use super::Side;
use super::ends::Compared;
use crate::formula::Checked;
use crate::handbook::{Difference, Entry, Handbook, KeyChange, Observes, Way};
use crate::rehearsal::{End, Parted, Renamed, findings_parted};

/// The most reasons that are told (limit of ours).
const MOST_REASONS: usize = 12;

/// Keys that are there to be read and decide nothing.
const WORDS: [&str; 13] = [
    "ask", "say", "why", "name", "title", "because", "text", "so", "so_not", "basis", "do",
    "parts", "replaces",
];

/// What of the two handbooks bears on a case that ends differently.
pub(super) fn why(
    compared: &Compared,
    (old, new): (&Side, &Side),
    renamed: &Renamed,
    differences: &[Difference],
) -> Vec<Parted> {
    let (Ok(before), Ok(after), true) = (&compared.ends.0, &compared.ends.1, compared.is_parted())
    else {
        return Vec::new();
    };
    let mut why = findings_parted(before, after, renamed);
    let mut bearing = Bearing::default();
    for (end, side) in [(before, old), (after, new)] {
        bearing.add(end, &side.handbook, &compared.parted);
    }
    for difference in differences.iter().filter(|difference| bearing.holds(difference)) {
        why.extend(told(difference));
    }
    why.truncate(MOST_REASONS);
    why
}

/// The entries that bear on a case, by section and id.
#[derive(Default)]
struct Bearing(BTreeSet<(&'static str, String)>);

impl Bearing {
    /// Adds the findings that speak, what they are computed from, the causes that moved and the
    /// tree where the case ends.
    fn add(&mut self, end: &End, handbook: &Handbook, parted: &[Parted]) {
        for finding in end.findings.keys().filter_map(|id| handbook.find_finding(id)) {
            let finding = handbook.finding(finding);
            self.0.insert(("findings", finding.id.clone()));
            let conditions = match &finding.observes {
                Observes::When(condition) => Some(condition),
                Observes::Of(question) => {
                    self.0.insert(("questions", handbook.question(*question).id.clone()));
                    None
                }
            };
            for condition in conditions.into_iter().chain(&finding.only_if) {
                self.add_names(condition, handbook);
            }
        }
        let causes = parted.iter().filter_map(|one| one.what.strip_prefix("ranking."));
        self.0.extend(causes.map(|cause| ("causes", cause.to_owned())));
        let moved = parted.iter().filter(|one| one.what == "leader");
        let leaders = moved.flat_map(|one| [&one.old, &one.new]);
        self.0.extend(leaders.map(|cause| ("causes", cause.clone())));
        if parted.iter().any(|one| one.what == "end" || one.what == "stopped") {
            let tree = end.step.split_once('.').map_or("", |(tree, _)| tree);
            self.0.insert(("trees", tree.to_owned()));
        }
    }

    /// Adds what a condition is computed from, down to the questions.
    fn add_names(&mut self, condition: &Checked, handbook: &Handbook) {
        for used in condition.uses() {
            match handbook.entry(used.symbol) {
                Entry::Question(id) => {
                    self.0.insert(("questions", handbook.question(id).id.clone()));
                }
                Entry::Formula(id) => {
                    let formula = handbook.formula(id);
                    if self.0.insert(("formulas", formula.id.clone())) {
                        self.add_names(&formula.is, handbook);
                    }
                }
                Entry::Finding(id) => {
                    self.0.insert(("findings", handbook.finding(id).id.clone()));
                }
            }
        }
    }

    fn holds(&self, difference: &Difference) -> bool {
        let is_it = |id: &str| {
            self.0.iter().any(|(section, held)| *section == difference.section && held == id)
        };
        let was = match &difference.way {
            Way::Renamed(was, _) => is_it(was),
            _ => false,
        };
        was || is_it(&difference.id) || difference.section == "instruments"
    }
}

/// Each key of a difference that decides something.
fn told(difference: &Difference) -> Vec<Parted> {
    let entry = format!("{}.{}", difference.section, difference.id);
    let missing = || "not there".to_owned();
    let of_keys = |keys: &[KeyChange]| {
        let decides = |key: &&KeyChange| {
            let last = key.key.rsplit('.').next().unwrap_or_default();
            let first = key.key.split('.').next().unwrap_or_default();
            let is_renamed_step = key.key == "steps";
            !WORDS.contains(&last) && !WORDS.contains(&first) && !is_renamed_step
        };
        let part = |key: &KeyChange| Parted {
            what: format!("{entry}.{}", key.key),
            old: key.old.clone().unwrap_or_else(missing),
            new: key.new.clone().unwrap_or_else(missing),
            by: None,
        };
        keys.iter().filter(decides).map(part).collect()
    };
    let whole = |old: String, new: String| vec![Parted { what: entry.clone(), old, new, by: None }];
    match &difference.way {
        Way::Added => whole(missing(), "added".to_owned()),
        Way::Removed => whole("there".to_owned(), "removed".to_owned()),
        Way::Renamed(_, keys) | Way::Changed(keys) => of_keys(keys),
    }
}
