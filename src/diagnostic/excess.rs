//! Which of very many faults are shown, and what is said of the others.

use std::collections::{BTreeMap, BTreeSet};

use super::{Code, Diagnostic};
use crate::source::SourceId;
use crate::text::count;

/// The most faults that a text shows. Estimate: nobody reads more in one sitting.
const MOST_SHOWN: usize = 100;

/// The most of them that have one code and stand in one file. Estimate: one hand made them all, and
/// what mends the first mends the others.
const MOST_ALIKE: usize = 20;

/// The most codes that are named with their number (limit of ours).
const MOST_CODES: usize = 6;

/// The faults to show and those to count only, both in the order given. The gravest are shown.
pub(super) fn parted(faults: &[Diagnostic]) -> (Vec<&Diagnostic>, Vec<&Diagnostic>) {
    let mut by_gravity: Vec<usize> = (0..faults.len()).collect();
    by_gravity.sort_by_key(|&place| faults[place].severity());
    let mut alike: BTreeMap<(Code, Option<SourceId>), usize> = BTreeMap::new();
    let mut shown = BTreeSet::new();
    for place in by_gravity {
        let fault = &faults[place];
        let of_its_kind = alike.entry((fault.code, file(fault))).or_default();
        if shown.len() < MOST_SHOWN && *of_its_kind < MOST_ALIKE {
            *of_its_kind += 1;
            shown.insert(place);
        }
    }
    let (told, left): (Vec<_>, Vec<_>) =
        faults.iter().enumerate().partition(|(place, _)| shown.contains(place));
    (without_places(told), without_places(left))
}

fn without_places(part: Vec<(usize, &Diagnostic)>) -> Vec<&Diagnostic> {
    part.into_iter().map(|(_, fault)| fault).collect()
}

fn file(fault: &Diagnostic) -> Option<SourceId> {
    fault.span().map(|span| span.source)
}

/// `9900 more are not shown, in 9900 files: 9000 of H206, 900 of H301`; nothing where none is left.
pub(super) fn said(left: &[&Diagnostic]) -> Option<String> {
    let verb = match left.len() {
        0 => return None,
        1 => "is",
        _ => "are",
    };
    let files: BTreeSet<SourceId> = left.iter().filter_map(|fault| file(fault)).collect();
    let mut codes: BTreeMap<Code, usize> = BTreeMap::new();
    for fault in left {
        *codes.entry(fault.code).or_default() += 1;
    }
    let mut counted: Vec<(Code, usize)> = codes.into_iter().collect();
    counted.sort_by_key(|(code, number)| (std::cmp::Reverse(*number), *code));
    let mut named: Vec<String> = counted
        .iter()
        .take(MOST_CODES)
        .map(|(code, number)| format!("{number} of {code}"))
        .collect();
    let others: usize = counted.iter().skip(MOST_CODES).map(|(_, number)| number).sum();
    if others > 0 {
        named.push(format!("{others} of others"));
    }
    let number = left.len();
    Some(format!(
        "{number} more {verb} not shown, in {}: {}",
        count(files.len(), "file"),
        named.join(", ")
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Sources;

    #[test]
    fn the_gravest_are_shown_and_the_others_counted() {
        let mut sources = Sources::default();
        let mut faults = Vec::new();
        for name in 0..10 {
            let id = sources.add(format!("{name}.yaml"), "x: y\n");
            for place in 0..30 {
                let code = if place < 15 { Code::NoText } else { Code::UnknownName };
                faults.push(Diagnostic::at(code, format!("{place}"), sources.span(id, 0, 1), ""));
            }
        }
        let (shown, left) = parted(&faults);
        assert_eq!((shown.len(), left.len()), (100, 200));
        let errors = shown.iter().filter(|fault| fault.code == Code::UnknownName).count();
        assert_eq!(errors, 100, "errors come before advice");
        let told = "200 more are not shown, in 10 files: 150 of H702, 50 of H206";
        assert_eq!(said(&left).as_deref(), Some(told));
    }

    #[test]
    fn of_one_kind_in_one_file_a_few_are_enough() {
        let mut sources = Sources::default();
        let id = sources.add("bomb.yaml", "x: y\n");
        let fault = Diagnostic::at(Code::YamlFeature, "an alias", sources.span(id, 0, 1), "");
        let faults = vec![fault; 21];
        let (shown, left) = parted(&faults);
        assert_eq!((shown.len(), left.len()), (20, 1));
        assert_eq!(said(&left).as_deref(), Some("1 more is not shown, in 1 file: 1 of H107"));
        assert_eq!(said(&parted(&faults[..20]).1), None);
    }
}
