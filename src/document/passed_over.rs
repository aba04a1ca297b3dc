//! Files of a handbook's folder that look like rules and are not read.

use std::path::Path;

use crate::diagnostic::{Code, Diagnostic};

/// Whether a file's name ends in `.yaml` or `.yml`.
#[must_use]
pub fn is_yaml(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml")
}

/// What is said of a file whose name tells of YAML without ending in it, such as the
/// `actions.yaml.txt` that simple editors save; nothing of hidden files and of the copies of an
/// editor.
///
/// ```
/// use std::path::Path;
/// use dryhold::document::passed_over;
/// let fault = passed_over(Path::new("mine/actions.yaml.txt")).unwrap();
/// assert_eq!(fault.help.as_deref(), Some("if it holds rules, call it `actions.yaml`"));
/// assert!(passed_over(Path::new("mine/actions.yaml")).is_none());
/// assert!(passed_over(Path::new("mine/.actions.yaml.swp")).is_none());
/// ```
#[must_use]
pub fn passed_over(path: &Path) -> Option<Diagnostic> {
    let name = path.file_name()?.to_str()?;
    let small = name.to_lowercase();
    let at = small.find(".yaml").or_else(|| small.find(".yml"))?;
    if is_yaml(path) || name.starts_with('.') || name.ends_with('~') {
        return None;
    }
    let stem = name.get(..at).filter(|stem| !stem.is_empty())?;
    let title = format!("`{}` is not read", path.display());
    Some(
        Diagnostic::nowhere(Code::PassedOver, title)
            .note("only files whose names end in `.yaml` or `.yml`, in small letters, are read")
            .help(format!("if it holds rules, call it `{stem}.yaml`")),
    )
}
