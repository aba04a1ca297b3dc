//! How many faults of one file are worth telling.

use std::collections::HashMap;

use crate::diagnostic::Diagnostic;
use crate::source::SourceId;

/// The most faults that are kept of one file. Estimate: nobody mends more in one sitting, and
/// a file with more is of another kind.
const MAX_FAULTS: usize = 1000;

/// Drops what is too much of each file, in the order given, and says on the last fault that is
/// kept how many were dropped.
pub fn bound(faults: &mut Vec<Diagnostic>) {
    if faults.len() <= MAX_FAULTS {
        return;
    }
    let mut counts: HashMap<Option<SourceId>, usize> = HashMap::new();
    let mut kept: Vec<Diagnostic> = Vec::new();
    let mut last: HashMap<Option<SourceId>, usize> = HashMap::new();
    for fault in faults.drain(..) {
        let file = fault.span().map(|span| span.source);
        let count = counts.entry(file).or_insert(0);
        *count += 1;
        if *count <= MAX_FAULTS {
            last.insert(file, kept.len());
            kept.push(fault);
        }
    }
    for (file, count) in counts {
        let dropped = count.saturating_sub(MAX_FAULTS);
        if let (1.., Some(fault)) = (dropped, last.get(&file).and_then(|&at| kept.get_mut(at))) {
            fault.note = Some(format!("{dropped} more faults of this file are not kept"));
        }
    }
    *faults = kept;
}
