//! The built-in handbook: every step and branch can be come to.

use dryhold::analysis::{Analysis, branches_of};
use dryhold::built_in::add_built_in;
use dryhold::handbook::{Handbook, StepId, TreeId, compile};
use dryhold::source::Sources;

pub fn built_in() -> Handbook {
    let mut sources = Sources::default();
    let files = add_built_in(&mut sources);
    compile(&sources, &files, &[]).handbook.unwrap()
}

#[test]
fn nothing_in_the_built_in_handbook_is_out_of_reach() {
    let handbook = built_in();
    let analysis = Analysis::of(&handbook);
    let mut missed = Vec::new();
    for (tree_id, tree) in
        handbook.trees().iter().enumerate().map(|(t, tree)| (TreeId::at(t), tree))
    {
        assert!(!analysis.is_coarse(tree_id), "{} is not followed way by way", tree.id);
        for (step_id, step) in tree.steps.iter().enumerate().map(|(s, step)| (StepId::at(s), step))
        {
            if analysis.is_out_of_reach(tree_id, step_id) {
                missed.push(format!("{}.{}", tree.id, step.id));
            }
            let never = |branch: &_| analysis.is_never_taken(tree_id, step_id, *branch);
            for branch in branches_of(step).into_iter().filter(never) {
                missed.push(format!("{}.{} {branch:?}", tree.id, step.id));
            }
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}
