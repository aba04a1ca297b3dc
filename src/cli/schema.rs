//! `dryhold schema`: the format of the files, for editors.

use anyhow::Result;

use super::author_arguments::{SchemaArguments, SchemaFile, SchemaFormat};
use super::exit::ExitStatus;
use super::session::Session;
use crate::handbook::{SchemaOf, schema};

pub(super) fn run(session: &mut Session<'_>, arguments: &SchemaArguments) -> Result<ExitStatus> {
    let of = match arguments.of {
        SchemaFile::Handbook => SchemaOf::Handbook,
        SchemaFile::Scenario => SchemaOf::Scenario,
        SchemaFile::Answers => SchemaOf::Answers,
    };
    let SchemaFormat::Json = arguments.format;
    session.result(&serde_json::to_string_pretty(&schema(of))?)?;
    Ok(ExitStatus::Settled)
}
