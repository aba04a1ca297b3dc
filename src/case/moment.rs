//! How a case stands between two events.

use std::cell::OnceCell;

use super::walk::Walk;
use crate::evidence::{
    Assessment, Engine, Insight, Reasons, Weighed, Worksheet, assess, insight, reasons,
};

/// How a case stands between two events. It is judged when somebody asks, since a script passes
/// most moments without looking. The worksheet handed in is always that of the walk's record.
#[derive(Debug)]
pub(super) struct Moment {
    pub(super) walk: Walk,
    weighed: OnceCell<Weighed>,
    assessment: OnceCell<Assessment>,
    reasons: OnceCell<Reasons>,
    insight: OnceCell<Insight>,
}

impl From<Walk> for Moment {
    fn from(walk: Walk) -> Self {
        Self {
            walk,
            weighed: OnceCell::new(),
            assessment: OnceCell::new(),
            reasons: OnceCell::new(),
            insight: OnceCell::new(),
        }
    }
}

impl Moment {
    /// The evidence, brought to the network.
    pub(super) fn weighed(&self, engine: &Engine, sheet: &Worksheet<'_>) -> &Weighed {
        self.weighed.get_or_init(|| Weighed::of(engine, sheet))
    }

    /// What the answers amount to.
    pub(super) fn assessment(&self, engine: &Engine, sheet: &Worksheet<'_>) -> &Assessment {
        self.assessment.get_or_init(|| assess(engine, sheet, self.weighed(engine, sheet)))
    }

    /// What speaks for each explanation and against it.
    pub(super) fn reasons(&self, engine: &Engine, sheet: &Worksheet<'_>) -> &Reasons {
        self.reasons.get_or_init(|| reasons(self.weighed(engine, sheet)))
    }

    /// What stands behind the verdict.
    pub(super) fn insight(&self, engine: &Engine, sheet: &Worksheet<'_>) -> &Insight {
        let been = || self.walk.path.iter().map(|step| step.place.tree).collect::<Vec<_>>();
        self.insight.get_or_init(|| insight(engine, sheet, self.weighed(engine, sheet), &been()))
    }
}
