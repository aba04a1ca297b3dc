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

/// Help of `dryhold try`, examples first.
pub(super) const TRY_HELP: &str = "\
Examples:
  dryhold try pump_alone --from falling --set blank_off='45 micron' --set still_falling=no
  dryhold try hose --only-rules my-rules
  dryhold try safety --set system_connected='not sure' --json

It goes on until a question has no answer, or to an end. At each step it says which condition
decided, with the numbers put in, and what doubt did. What is to be done counts as done, and
cautions as read: nobody works on anything, and nothing is kept.

Exit status:
  0    tried
  2    there is no such tree or step, or an answer can't be used
  5    the handbook has errors";

/// Arguments of `try`.
#[derive(Args, Clone, Debug)]
pub struct TryArguments {
    /// The tree
    pub tree: String,

    /// The step to start at; without it, the tree's first
    #[arg(long, value_name = "STEP")]
    pub from: Option<String>,

    /// Gives an answer as you would type it; may be repeated, also for one question
    #[arg(long = "set", value_name = "QUESTION=ANSWER")]
    pub answers_set: Vec<String>,

    /// Prints the way as JSON
    #[arg(long)]
    pub json: bool,
}

/// Help of `dryhold graph`, examples first.
pub(super) const GRAPH_HELP: &str = "\
Examples:
  dryhold graph pump_alone > pump.svg       a tree, its steps and branches
  dryhold graph > trees.svg                 how the trees lead to each other
  dryhold graph pump_alone --case 2026-03-31-1 > case.svg
  dryhold graph pump_alone --coverage --format mermaid
  dryhold graph --format dot | dot -Tpdf -o trees.pdf

A thick stroke is what the case has passed, or what a scenario has reached; a dashed one, what
none has. The words in the boxes say the same.

Exit status:
  0    drawn
  2    there is no such tree, case or scenario
  5    the handbook has errors";

/// Arguments of `graph`.
#[derive(Args, Clone, Debug)]
pub struct GraphArguments {
    /// The tree; without it, all trees and what leads from one to another
    pub tree: Option<String>,

    /// How it is written
    #[arg(long, value_enum, default_value = "svg")]
    pub format: GraphFormat,

    /// Draws the path of a case on it
    #[arg(long, value_name = "CASE")]
    pub case: Option<String>,

    /// Draws on it what the scenarios reach
    #[arg(long, conflicts_with = "case")]
    pub coverage: bool,

    /// Scenario files or folders of them for --coverage; without any, the folder `scenarios`
    #[arg(long, value_name = "PATH", requires = "coverage")]
    pub scenarios: Vec<PathBuf>,
}

/// How a drawing is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum GraphFormat {
    /// The DOT language.
    Dot,
    /// A flowchart of Mermaid.
    Mermaid,
    /// A picture in SVG.
    Svg,
}

/// Help of `dryhold print`, examples first.
pub(super) const PRINT_HELP: &str = "\
Examples:
  dryhold print pump_alone --format html > pump.html
  dryhold print safety > safety.md
  dryhold print --only-rules my-rules

Cautions come first, then the steps with where each leads, the limits in both units, and what each
end means. Printed from a browser, the HTML is A4.

Exit status:
  0    printed
  2    there is no such tree
  5    the handbook has errors";

/// Arguments of `print`.
#[derive(Args, Clone, Debug)]
pub struct PrintArguments {
    /// The tree; without it, the one that starts with what you are seeing
    pub tree: Option<String>,

    /// How it is written
    #[arg(long, value_enum, default_value = "markdown")]
    pub format: PrintFormat,
}

/// How a card is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PrintFormat {
    /// Markdown.
    Markdown,
    /// A page of HTML for paper.
    Html,
}

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

/// Arguments of `sources`.
#[derive(Args, Clone, Debug)]
pub struct SourcesArguments {
    /// Only this source or mark, such as estimate, with every place that names it
    pub id: Option<String>,

    /// How it is written
    #[arg(long, value_enum, default_value = "text")]
    pub format: SourcesFormat,
}

/// How sources are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SourcesFormat {
    /// For reading.
    Text,
    /// For programs.
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
