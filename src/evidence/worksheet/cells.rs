//! What has been worked out of a record already.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use crate::evidence::finding::Judged;
use crate::evidence::record::Round;
use crate::evidence::saying::Saying;
use crate::formula::{Symbol, Value};
use crate::handbook::FindingId;

/// How much of a record a worksheet sees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct View {
    /// Only what happened before this place in the order is seen.
    pub(super) until: usize,
    /// Only observations made before this place are seen; what is known of settings is.
    pub(super) observed_until: usize,
    /// Only this round of its tree is seen; other trees' answers are.
    pub(super) round: Option<Round>,
    /// Whether a setting nobody answered counts as "not sure".
    pub(super) assumes_settings: bool,
    /// Whether a step stands here that goes by what was asked last.
    pub(super) is_at_a_step: bool,
}

impl View {
    /// What happened before a place, without any other limit.
    pub(super) fn until(until: usize) -> Self {
        Self {
            until,
            observed_until: usize::MAX,
            round: None,
            assumes_settings: false,
            is_at_a_step: false,
        }
    }
}

/// The cells that one view has evaluated.
#[derive(Debug, Default)]
pub(super) struct Evaluated {
    pub(super) values: RefCell<HashMap<Symbol, Value>>,
    pub(super) findings: RefCell<HashMap<FindingId, Judged>>,
    pub(super) sayings: RefCell<HashMap<FindingId, Saying>>,
}

/// The cells that have been evaluated of a record, by the views on it: a finding is judged as of
/// the time of its observations, and many are of the same time. Kept beside a record that changes
/// no more, they serve every worksheet over it.
#[derive(Clone, Debug, Default)]
pub struct Cells {
    by_view: Rc<RefCell<HashMap<View, Rc<Evaluated>>>>,
}

impl Cells {
    /// Those of one view.
    pub(super) fn of(&self, view: View) -> Rc<Evaluated> {
        Rc::clone(self.by_view.borrow_mut().entry(view).or_default())
    }
}
