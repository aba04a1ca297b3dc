//! Arguments of the commands for whoever writes rules.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};

/// Help of `dryhold new`, examples first.
pub(super) const NEW_HELP: &str = "\
Examples:
  dryhold new handbook 'Hoses' --into hoses
  dryhold new tree --id hose_look --title 'Look at each hose' --into my-rules
  dryhold new cause --id flat_gasket --title 'A flat gasket' --into my-rules
  dryhold new question --id hose_age --title 'How old is the hose?' --kind time --into my-rules
  dryhold new scenario --id worn --title 'A worn pump' --tree pump_alone --into my-scenarios

At a terminal it asks for what is not given. No file is ever overwritten. A folder with a
handbook.yaml is a handbook of its own; any other adds to the built-in one.

Exit status:
  0    written
  2    something is missing, an id is taken, or a file is there already
  3    the questions were not answered; nothing is written
  5    a scenario's handbook has errors
  130  interrupted; nothing is written";

/// Help of `dryhold schema`, examples first.
pub(super) const SCHEMA_HELP: &str = "\
Examples:
  dryhold schema > handbook.json            any file of a handbook, trees among them
  dryhold schema scenario > scenario.json
  dryhold schema answers

An editor that knows JSON Schema completes keys, explains them and marks slips while you type.
Many take the schema from the first line of a file:
  # yaml-language-server: $schema=handbook.json

What names lead to, what formulas mean and whether a tree ends is for `dryhold check`.";

/// Arguments of `schema`.
#[derive(Args, Clone, Debug)]
pub struct SchemaArguments {
    /// The sort of file: handbook for any file of rules, scenario or answers
    #[arg(value_enum, default_value = "handbook")]
    pub of: SchemaFile,

    /// How it is written
    #[arg(long, value_enum, default_value = "json")]
    pub format: SchemaFormat,
}

/// A sort of file that has a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SchemaFile {
    /// Any file of a handbook.
    Handbook,
    /// A scenario.
    Scenario,
    /// An answers file.
    Answers,
}

/// How a schema is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SchemaFormat {
    /// JSON Schema, draft 2020-12.
    Json,
}

/// Arguments of `new`.
#[derive(Args, Clone, Debug)]
pub struct NewArguments {
    /// What to begin.
    #[command(subcommand)]
    pub what: New,
}

/// What can be begun.
#[derive(Clone, Debug, Subcommand)]
#[command(disable_help_subcommand = true)]
pub enum New {
    /// A whole small handbook, with a tree and a scenario that pass
    Handbook(NewHandbook),
    /// A tree with its questions and the finding that steers it
    Tree(NewTree),
    /// A cause with its repair and the look that speaks for it
    Cause(NewEntry),
    /// A question
    Question(NewQuestion),
    /// A scenario: the questions that a tree asks, ready to be answered
    Scenario(NewScenario),
}

/// Arguments of `new handbook`.
#[derive(Args, Clone, Debug)]
pub struct NewHandbook {
    /// What the handbook is called
    pub name: Option<String>,

    /// The folder to write it into; there may be no rules in it yet
    #[arg(long, value_name = "FOLDER")]
    pub into: Option<PathBuf>,
}

/// What every new entry needs.
#[derive(Args, Clone, Debug, Default)]
pub struct NewEntry {
    /// Its id: small letters, digits and _, a letter first
    #[arg(long)]
    pub id: Option<String>,

    /// What people read: a tree's title, a cause's name, a question's words, a scenario's name
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,

    /// The folder to write it into
    #[arg(long, value_name = "FOLDER")]
    pub into: Option<PathBuf>,
}

/// Arguments of `new tree`.
#[derive(Args, Clone, Debug)]
pub struct NewTree {
    /// What every new entry needs.
    #[command(flatten)]
    pub entry: NewEntry,

    /// Writes a whole small handbook around the tree, where there are no rules yet
    #[arg(long)]
    pub handbook: bool,
}

/// Arguments of `new question`.
#[derive(Args, Clone, Debug)]
pub struct NewQuestion {
    /// What every new entry needs.
    #[command(flatten)]
    pub entry: NewEntry,

    /// What kind of answer it takes: yes/no, choice, pressure, temperature, time, length, volume
    /// or ratio; yes/no if left out
    #[arg(long)]
    pub kind: Option<String>,
}

/// Arguments of `new scenario`.
#[derive(Args, Clone, Debug)]
pub struct NewScenario {
    /// What every new entry needs.
    #[command(flatten)]
    pub entry: NewEntry,

    /// The tree that it runs
    #[arg(long)]
    pub tree: Option<String>,
}
