//! `dryhold check --explain`: the page of a code.

use anyhow::{Result, bail};

use crate::cli::session::Session;
use crate::diagnostic::{CODES, Code, Severity, near_name};

/// The pages of `docs/errors/`, by the numbers of their codes.
static PAGES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/pages.rs"));

/// Prints the page of the code called `name`; every code with its title where it is empty.
pub(super) fn explain(session: &mut Session<'_>, name: &str) -> Result<()> {
    if name.is_empty() {
        for code in CODES {
            session.result(&format!("{code}  {:<8} {}", word(code.severity()), code.title()))?;
        }
        return Ok(());
    }
    let number = name.trim().to_uppercase();
    let Some((_, page)) = PAGES.iter().find(|(of, _)| *of == number) else {
        let near = near_name(&number, CODES.iter().map(|code| code.number()));
        let meant = near.map(|near| format!("; did you mean {near}?")).unwrap_or_default();
        bail!("no code is called `{name}`{meant} (`dryhold check --explain` alone lists them all)");
    };
    session.result(page.trim_end())
}

/// How grave a fault is, in a word.
pub(super) fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Advice => "advice",
    }
}

/// The page of a code as Markdown.
pub(super) fn page(code: Code) -> &'static str {
    PAGES.iter().find(|(of, _)| *of == code.number()).map_or("", |(_, page)| page)
}
