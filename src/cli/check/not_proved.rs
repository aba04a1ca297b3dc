//! What was not proved of a sound handbook, tree by tree.

use serde_json::{Value, json};

use crate::analysis::Analysis;
use crate::handbook::{Next, StepId, TreeId};
use crate::text::count;

/// A tree of which something was not proved.
pub(super) struct NotProved {
    tree: String,
    /// Whether some ways through it were taken together.
    is_coarse: bool,
    /// Each condition that single answers don't decide, with its step.
    conditions: Vec<(String, String)>,
}

/// Every tree of which something was not proved.
pub(super) fn not_proved(analysis: &Analysis<'_>) -> Vec<NotProved> {
    let trees = (0..analysis.handbook().trees().len()).map(TreeId::at);
    let of_tree = |id: TreeId| {
        let tree = analysis.handbook().tree(id);
        let named = |(step, place): (StepId, usize)| {
            let step = tree.step(step);
            let Next::ByRules { rules, .. } = &step.next else { return None };
            Some((step.id.clone(), rules.get(place)?.condition.text().trim().to_owned()))
        };
        let conditions: Vec<_> = analysis.undecided(id).into_iter().filter_map(named).collect();
        let is_coarse = analysis.is_coarse(id);
        (is_coarse || !conditions.is_empty()).then(|| NotProved {
            tree: tree.id.clone(),
            is_coarse,
            conditions,
        })
    };
    trees.filter_map(of_tree).collect()
}

impl NotProved {
    /// For programs.
    pub(super) fn json(&self) -> Value {
        let one = |(step, condition): &(String, String)| json!({"step": step, "if": condition});
        let conditions: Vec<Value> = self.conditions.iter().map(one).collect();
        json!({
            "tree": self.tree,
            "ways_taken_together": self.is_coarse,
            "conditions": conditions,
        })
    }
}

/// In one sentence; nothing where everything was proved.
pub(super) fn in_words(open: &[NotProved]) -> Option<String> {
    let conditions: usize = open.iter().map(|tree| tree.conditions.len()).sum();
    let trees = open.iter().filter(|tree| !tree.conditions.is_empty()).count();
    (conditions > 0).then(|| {
        format!(
            "Not proved: when {} in {} can hold, since several answers decide it.\n\
             Scenarios show it; `--format json` lists them.",
            count(conditions, "condition"),
            count(trees, "tree"),
        )
    })
}
