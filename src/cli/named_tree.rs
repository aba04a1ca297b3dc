//! The tree that an argument names.

use std::path::Path;

use anyhow::{Result, anyhow, bail};

use super::arguments::Arguments;
use super::load::{Rules, rules_in};

use crate::diagnostic::near_name;
use crate::handbook::{Handbook, TreeId};
use crate::text::inert;

/// The tree to begin with where none is named, or which there are.
pub(super) fn first_tree(handbook: &Handbook) -> Result<TreeId> {
    let ids = || handbook.trees().iter().map(|tree| tree.id.as_str());
    let first = handbook.first_tree();
    first.ok_or_else(|| anyhow!("name a tree: {}", ids().collect::<Vec<_>>().join(", ")))
}

/// The tree of this id, or what may have been meant.
pub(super) fn find_tree(arguments: &Arguments, handbook: &Handbook, name: &str) -> Result<TreeId> {
    if let Some(tree) = handbook.find_tree(name) {
        return Ok(tree);
    }
    let ids = || handbook.trees().iter().map(|tree| tree.id.as_str());
    let shown = inert(name);
    if let Some(near) = near_name(name, ids()) {
        bail!("there is no tree `{shown}`; did you mean `{near}`?");
    }
    let trees = ids().collect::<Vec<_>>().join(", ");
    if arguments.only_rules.is_some() || !arguments.rules.is_empty() {
        bail!("there is no tree `{shown}`; the trees are {trees}");
    }
    let folder = Path::new(name);
    match rules_in(folder) {
        Ok(rules @ (Rules::Whole | Rules::Added)) => bail!(
            "`{shown}` is a folder of rules, no tree; load it with {} {shown}, and name one of its \
             trees",
            rules.option()
        ),
        _ => bail!(
            "there is no tree `{shown}`; the trees are {trees}. One of your own comes \
             with --rules FOLDER, or with --only-rules FOLDER for a handbook of its own"
        ),
    }
}
