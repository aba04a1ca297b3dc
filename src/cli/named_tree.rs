//! The tree that an argument names.

use anyhow::{Result, bail};

use crate::diagnostic::near_name;
use crate::handbook::{Handbook, TreeId};
use crate::text::inert;

/// The tree of this id, or what may have been meant.
pub(super) fn find_tree(handbook: &Handbook, name: &str) -> Result<TreeId> {
    if let Some(tree) = handbook.find_tree(name) {
        return Ok(tree);
    }
    let ids = || handbook.trees().iter().map(|tree| tree.id.as_str());
    let shown = inert(name);
    match near_name(name, ids()) {
        Some(near) => bail!("there is no tree `{shown}`; did you mean `{near}`?"),
        None => bail!(
            "there is no tree `{shown}`; the trees are {}",
            ids().collect::<Vec<_>>().join(", ")
        ),
    }
}
