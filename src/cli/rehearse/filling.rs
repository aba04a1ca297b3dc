//! `rehearse --write-missing`: scenarios for what none has reached.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write as _};
use std::path::Path;

use anyhow::{Context, Result};

use crate::cli::session::Session;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{Coverage, Filling, Lack, fill};
use crate::text::count;

/// Writes a scenario for each gap that answers were found for, into a folder; what is there
/// already stays as it is.
pub(super) fn write(
    session: &mut Session<'_>,
    coverage: &mut Coverage,
    (handbook, engine): (&Handbook, &Engine),
    folder: &Path,
) -> Result<()> {
    std::fs::create_dir_all(folder)
        .with_context(|| format!("the folder {} can't be made", folder.display()))?;
    let Filling { filled, left } = fill(coverage, handbook, engine);
    let mut written = 0;
    for one in &filled {
        let path = folder.join(format!("{}.yaml", one.file));
        let file = OpenOptions::new().write(true).create_new(true).open(&path);
        match file {
            Ok(mut file) => {
                file.write_all(one.text.as_bytes())
                    .with_context(|| format!("{} can't be written", path.display()))?;
                written += 1;
                session.result(&format!("written      {}: {}", path.display(), one.reaches))?;
            }
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                session.result(&format!("left         {}: it is there already", path.display()))?;
            }
            Err(error) => {
                return Err(error).with_context(|| format!("{} can't be made", path.display()));
            }
        }
    }
    for (name, lack) in &left {
        let (word, why) = match lack {
            Lack::NotLookedFor => ("not looked", Some("nothing tells which answers to look for")),
            Lack::Otherwise => ("otherwise", Some("the answers found bring something else about")),
            Lack::NoAnswers(stuck) => ("no answers", stuck.as_deref()),
            Lack::GivenUp(stuck) => ("given up", stuck.as_deref()),
        };
        session.result(&format!("{word:<12} {name}"))?;
        if let Some(why) = why {
            session.result(&format!("             {why}"))?;
        }
    }
    if !left.is_empty() {
        session.result(
            "What is left may still be reached: that is not proved either way. Below it stands where \
             the way that came furthest was stuck.",
        )?;
    }
    session.result(&format!(
        "{} written, without an expectation until you fill it in",
        count(written, "scenario")
    ))
}
