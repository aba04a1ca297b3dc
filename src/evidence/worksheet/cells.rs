//! What has been worked out of a record already.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use crate::evidence::finding::Judged;
use crate::evidence::record::{Given, Record, Round};
use crate::evidence::saying::Saying;
use crate::formula::{Symbol, Value};
use crate::handbook::{FindingId, Handbook, QuestionId};

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

impl Evaluated {
    fn is_empty(&self) -> bool {
        self.values.borrow().is_empty() && self.findings.borrow().is_empty()
    }
}

type ByView = Rc<RefCell<HashMap<View, Rc<Evaluated>>>>;

/// The cells that have been evaluated of a record, by the views on it: a finding is judged as of
/// the time of its observations, and many are of the same time. Kept beside a record that changes
/// no more, they serve every worksheet over it; and what later answers can't touch serves the
/// record that they are added to.
#[derive(Clone, Debug, Default)]
pub struct Cells {
    by_view: ByView,
    earlier: Option<Rc<Earlier>>,
}

/// What was evaluated of a record before more answers or deeds came.
#[derive(Clone, Debug)]
struct Earlier {
    by_view: ByView,
    /// The place of the first deed since.
    deed: Option<usize>,
    /// For each question, in the order of the handbook, whether what it stands for may be another
    /// one by now.
    is_touched: Vec<bool>,
}

impl Earlier {
    /// The view on the earlier record that sees what a view on this one does. A deed touches
    /// whatever is seen behind it; the view as of just before the first one sees what everything
    /// was then.
    fn seen_then(&self, view: View) -> Option<View> {
        let Some(deed) = self.deed else { return Some(view) };
        match view.observed_until.min(view.until) {
            end if end < deed => Some(view),
            end if end == deed && view.observed_until == deed => {
                Some(View { observed_until: usize::MAX, ..view })
            }
            _ => None,
        }
    }
}

/// Those of one view on an earlier record, as far as the answers since can't touch them.
#[derive(Clone, Debug)]
pub(super) struct Kept {
    pub(super) evaluated: Rc<Evaluated>,
    earlier: Rc<Earlier>,
}

impl Kept {
    /// Whether a name may stand for another value by now.
    pub(super) fn is_touched(&self, handbook: &Handbook, symbol: Symbol) -> bool {
        let behind = handbook.questions_behind(symbol);
        behind.iter().any(|question| self.earlier.is_touched[question.index()])
    }
}

impl Cells {
    /// Those of one view.
    pub(super) fn of(&self, view: View) -> Rc<Evaluated> {
        Rc::clone(self.by_view.borrow_mut().entry(view).or_default())
    }

    /// Those of the same view on an earlier record, if there are any.
    pub(super) fn kept(&self, view: View) -> Option<Kept> {
        let earlier = self.earlier.as_ref()?;
        let view = earlier.seen_then(view)?;
        let evaluated = Rc::clone(earlier.by_view.borrow().get(&view)?);
        Some(Kept { evaluated, earlier: Rc::clone(earlier) })
    }

    /// The cells of a record, with what holds of these ones of the record before: all that its new
    /// answers and deeds can't touch, if it is the same record with more at its end, in the same
    /// rounds.
    #[must_use]
    pub fn gone_on(&self, handbook: &Handbook, before: &Record, now: &Record) -> Self {
        let only_adds = before.rounds == now.rounds
            && now.done.starts_with(&before.done)
            && now.given.starts_with(&before.given);
        if !only_adds {
            return Self::default();
        }
        let more = &now.given[before.given.len()..];
        let deed = now.done.get(before.done.len()).map(|(_, order)| *order);
        let mut is_touched = touched(handbook, more);
        // Nobody looked at the record before: what was evaluated before it is all there is.
        let (by_view, deed) = match &self.earlier {
            Some(earlier) if self.by_view.borrow().values().all(|cells| cells.is_empty()) => {
                for (now, before) in is_touched.iter_mut().zip(&earlier.is_touched) {
                    *now |= before;
                }
                (&earlier.by_view, earlier.deed.or(deed))
            }
            _ => (&self.by_view, deed),
        };
        let earlier = Earlier { by_view: Rc::clone(by_view), deed, is_touched };
        Self { by_view: ByView::default(), earlier: Some(Rc::new(earlier)) }
    }
}

/// For each question, in the order of the handbook, whether new answers may change what it stands
/// for: they are its own, or outdate it, or tell in which unit its gauge was read, or of the
/// reading that it asks about.
pub(super) fn touched(handbook: &Handbook, more: &[Given]) -> Vec<bool> {
    let is_answered = |id: &QuestionId| more.iter().any(|given| given.question == *id);
    let is_touched = |id: QuestionId| {
        let outdated_by = handbook.outdated_by(id);
        is_answered(&id)
            || outdated_by.is_some_and(|by| by.questions.iter().any(is_answered))
            || handbook.face(id).is_some_and(|face| is_answered(&face))
            || handbook.question(id).about.iter().any(is_answered)
    };
    handbook.question_ids().map(is_touched).collect()
}
