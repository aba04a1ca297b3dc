//! What may be written behind `dryhold`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use super::author_arguments::{
    GRAPH_HELP, GraphArguments, NEW_HELP, NewArguments, PRINT_HELP, PrintArguments, SCHEMA_HELP,
    SchemaArguments, SourcesArguments, TRY_HELP, TryArguments,
};
use super::book_arguments::{
    CASES_HELP, CLOSE_HELP, CasesArguments, CloseArguments, DetailArguments, REPORT_HELP,
    ReportArguments,
};
use super::coloured::Coloured;
use super::completions::{COMPLETIONS_HELP, CompletionsArguments};
use super::config::{CONFIG_HELP, ConfigArguments};
use super::diagnose_help::DIAGNOSE_HELP;
use super::handing_arguments::{EXPORT_HELP, ExportArguments, IMPORT_HELP, ImportArguments};
use super::hold_arguments::{HoldArguments, WatchArguments};
use super::manual::{MANUAL_HELP, ManualArguments};
use super::practice_arguments::{PRACTICE_HELP, PracticeArguments};
use super::rehearse::{Floor, read_floor};

/// The heading of what every command takes.
const EVERY: &str = "Options of every command";

/// Finds out why a refrigeration or air-conditioning system won't pull a deep vacuum, or won't
/// hold it: the pump's oil, a hose or fitting, moisture, or a true leak.
#[derive(Clone, Debug, Parser)]
#[command(
    name = "dryhold",
    version,
    max_term_width = 100,
    disable_help_subcommand = true,
    after_help = "\
Examples:
  dryhold                                   at a terminal: the guided case
  dryhold diagnose pump_alone               the pump, its oil and the gauge
  dryhold eval '500 micron as Pa'
  dryhold check my-rules

Exit status:
  0    settled (also when nothing is wrong), a proof was passed or a way is done, or the command
       did its work
  1    a rehearsal fell short, or a case ends differently in a comparison
  2    wrong usage or unusable input, or no answer that a finding uses
  3    not settled, stopped by you, or the input ended
  4    stopped for safety
  5    the handbook has errors
  130  interrupted; the case is kept

The makers' instructions, local codes and licensed practice come before anything it says."
)]
pub struct Arguments {
    /// What to do; alone at a terminal, a guided case is started or carried on.
    #[command(subcommand)]
    pub command: Option<Command>,

    /// Plain numbered prompts without redrawing or colour
    #[arg(long, global = true, help_heading = EVERY)]
    pub plain: bool,

    /// When to colour: auto at a terminal unless the environment says otherwise (NO_COLOR, CLICOLOR)
    #[arg(long, global = true, help_heading = EVERY, value_enum, value_name = "WHEN")]
    pub color: Option<Coloured>,

    /// Adds a folder of rules to the built-in handbook
    #[arg(long, global = true, help_heading = EVERY, value_name = "FOLDER")]
    pub rules: Vec<PathBuf>,

    /// Uses a folder of rules instead of the built-in handbook
    #[arg(long, global = true, help_heading = EVERY, value_name = "FOLDER", conflicts_with = "rules")]
    pub only_rules: Option<PathBuf>,

    /// The folder that holds the cases
    #[arg(long, global = true, help_heading = EVERY, value_name = "FOLDER")]
    pub book: Option<PathBuf>,
}

/// The commands.
#[derive(Clone, Debug, Subcommand)]
pub enum Command {
    /// Runs one case; with answers given it never prompts
    #[command(after_help = DIAGNOSE_HELP)]
    Diagnose(DiagnoseArguments),
    /// Carries on with a case
    #[command(after_help = "\
Examples:
  dryhold resume                            the case you worked on last
  dryhold resume 2026-03-31-1               the first case of that day

Exit status: as of `dryhold diagnose`.")]
    Resume(ResumeArguments),
    /// Lists the cases of the book
    #[command(after_help = CASES_HELP)]
    Cases(CasesArguments),
    /// Reports a case: what was asked, computed, found and done, and what is open
    #[command(after_help = REPORT_HELP)]
    Report(ReportArguments),
    /// Closes a case with what fixed it
    #[command(after_help = CLOSE_HELP)]
    Close(CloseArguments),
    /// Writes a case with its handbook to one file, for somebody else
    #[command(after_help = EXPORT_HELP)]
    Export(ExportArguments),
    /// Takes in a case that was exported, and goes on with one that is here
    #[command(after_help = IMPORT_HELP)]
    Import(ImportArguments),
    /// Reads how a closed system's pressure rises: straight, levelling off, both, or not to be told
    #[command(after_help = "\
Examples:
  dryhold rise hold.csv --volume '12 L' --limit '500 micron' --within '30 min'
  dryhold rise hold.csv --coldest '4 degC' --gauge-scale '10 %'
  dryhold rise hold.csv --plot --svg hold.svg
  echo '300, 420, 510, 570, 610, 640 micron every 5 min' | dryhold rise -

The log has a column of times and one of pressures, or is a block as somebody dictates it. One
hold alone proves no leak: a source slower than the hold rises like one.

Exit status:
  0    told: quiet, straight, levelling or both
  2    the log or an option can't be used
  3    the readings don't tell, or not yet")]
    Rise(Box<RiseArguments>),
    /// Reads a hold test while it goes on: says how long to wait, and when enough is known
    #[command(after_help = "\
Examples:
  dryhold watch                             type a reading a minute
  dryhold watch --volume '12 L' --limit '500 micron' --within '30 min'
  dryhold watch --log hold.csv              go on after an interruption, the clock running on
  some-logger | dryhold watch               a line at a time, as they come
  dryhold watch --plan                      how long it is likely to take

A line is a pressure, with its time before it or not:
  420    420 micron    5 min 420    10:05 420    OL
Words: done ends, back takes the last reading back, why, help.

Every reading is on the disk before it counts. Dryhold reads the log as any other.

Exit status:
  0    told: quiet, straight, levelling or both
  2    an option, the log or no line at all can be used
  3    the readings don't tell, or not yet
  130  interrupted; the readings are kept")]
    Watch(Box<WatchArguments>),
    /// Says what stands behind a case: the rule, the numbers and their marks
    #[command(after_help = "\
Examples:
  dryhold why                               the verdict on the case you worked on last
  dryhold why pump_oil                      how likely a cause is, answer by answer
  dryhold why blank_off_high                why a finding came out so, or did not
  dryhold why target --case 2026-03-31-1    what hangs on an answer

Exit status:
  0    told
  2    there is no such case or name")]
    Why(WhyArguments),
    /// Computes a formula with units
    #[command(after_help = "\
Examples:
  dryhold eval '500 micron as Pa'
  dryhold eval '(35 +- 5 micron) - 26 micron' --working
  dryhold eval '10 L * 12 micron/min as Pa m3/s' --json")]
    Eval(EvalArguments),
    /// Checks a handbook and reports every mistake in it
    #[command(after_help = "\
Examples:
  dryhold check                             the built-in handbook
  dryhold check my-rules                    a handbook of its own
  dryhold --rules my-rules check            a folder that adds to the built-in handbook
  dryhold check my-rules --watch            again after every save
  dryhold check --explain H605              what a code means, with an example

Exit status:
  0    no error, though perhaps warnings
  2    the folder can't be read
  5    the handbook has errors")]
    Check(CheckArguments),
    /// Runs scenarios against the handbook, and measures what they reach of it
    #[command(after_help = "\
Examples:
  dryhold rehearse                          every scenario below the folder scenarios
  dryhold rehearse wet-van.yaml             one scenario
  dryhold --only-rules my-rules rehearse my-scenarios
  dryhold rehearse --min-coverage 80        every measure at least 80 %
  dryhold rehearse --min-coverage steps=100 --min-coverage findings=90
  dryhold rehearse --format junit           for programs that gather tests
  dryhold rehearse wet-van.yaml --bless     what was found becomes what is expected
  dryhold rehearse --write-missing new      answers for what no scenario reaches

What is measured:
  steps        steps of trees that were come to
  branches     ways out of a step that were taken
  findings     outcomes of findings: true and false, or each choice
  thresholds   both sides of each comparison in a condition of a finding or a branch
  causes       causes that led a ranking
  cautions     cautions that were shown

Exit status:
  0    everything came out as expected
  1    something did not, or coverage is below --min-coverage
  2    a scenario can't be read
  5    the handbook has errors")]
    Rehearse(RehearseArguments),
    /// Lets you find a hidden fault at a simulated rig, and lists what a class did
    #[command(after_help = PRACTICE_HELP)]
    Practice(Box<PracticeArguments>),
    /// Compares two handbooks: what they say, and how cases end under them
    #[command(after_help = "\
Examples:
  dryhold compare built_in my-rules         with the scenarios of the folder scenarios
  dryhold compare rules-before rules-after --scenarios my-scenarios
  dryhold compare built_in my-rules --cases ~/.local/share/dryhold/cases

Entries are compared by section and id, one that says `was: old_id` with the old one; layout and
comments don't count. A case ends differently if another cause leads, a cause gets another of the
seven words, or it is settled, stopped or at its end elsewhere. Those come first whose lead, end or
settledness is another. A folder without a header of its own is put onto the built-in handbook.

Exit status:
  0    every case ends alike, though entries may differ
  1    a case ends differently, or can be run under one handbook only
  2    a scenario or a folder can't be read
  5    a handbook has errors")]
    Compare(CompareArguments),
    /// Writes what an author begins with: a handbook, a tree, a cause, a question, a scenario
    #[command(after_help = NEW_HELP)]
    New(NewArguments),
    /// Starts anywhere in a tree with what is given, and says why it goes where it goes
    #[command(after_help = TRY_HELP)]
    Try(TryArguments),
    /// Draws a tree, or the visits between trees
    #[command(after_help = GRAPH_HELP)]
    Graph(GraphArguments),
    /// Prints a tree as a card of one or two pages, for a van without a computer
    #[command(after_help = PRINT_HELP)]
    Print(PrintArguments),
    /// Prints the format of rules, scenarios or answers as JSON Schema, for an editor
    #[command(after_help = SCHEMA_HELP)]
    Schema(SchemaArguments),
    /// Lists the functions of the formula language, or explains one
    #[command(after_help = "\
Examples:
  dryhold functions
  dryhold functions max
  dryhold functions vapour                  those that speak of it")]
    Functions(FunctionsArguments),
    /// Lists where the handbook's numbers come from, and who uses which source
    #[command(after_help = "\
Examples:
  dryhold sources
  dryhold sources memory                    every place with numbers from memory
  dryhold sources --rules parts --format json")]
    Sources(SourcesArguments),
    /// Lists the units, by what they measure
    #[command(after_help = "\
Examples:
  dryhold units
  dryhold units pressure
  dryhold units 'rise rate'")]
    Units {
        /// Only units of this kind, such as pressure
        kind: Option<String>,
    },
    /// Shows the settings of a run, and where each is from
    #[command(after_help = CONFIG_HELP)]
    Config(ConfigArguments),
    /// Prints what a shell needs to complete commands, trees, questions and cases
    #[command(after_help = COMPLETIONS_HELP)]
    Completions(CompletionsArguments),
    /// Prints the manual page of the program or of one command
    #[command(after_help = MANUAL_HELP)]
    Manual(ManualArguments),
}

/// Whom the questions are worded for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum For {
    /// Somebody at the rig.
    #[default]
    Site,
    /// Somebody on the phone.
    Phone,
}

/// The headings of what `diagnose` takes.
const BEFOREHAND: &str = "Answers given beforehand";
const PRINTED: &str = "What is printed";

/// Arguments of `diagnose`.
#[derive(Args, Clone, Debug, Default)]
pub struct DiagnoseArguments {
    /// The tree to run; without it, the one that starts with what you are seeing
    pub tree: Option<String>,

    /// Gives an answer as you would type it; may be repeated, also for one question
    #[arg(long = "set", value_name = "QUESTION=ANSWER", help_heading = BEFOREHAND)]
    pub answers_set: Vec<String>,

    /// Reads answers from a YAML file
    #[arg(long, value_name = "FILE", help_heading = BEFOREHAND)]
    pub answers: Option<PathBuf>,

    /// Prints what stands behind a cause, finding, question or formula instead of the verdict
    #[arg(long, value_name = "NAME", conflicts_with = "json", help_heading = PRINTED)]
    pub why: Option<String>,

    /// Acknowledges a caution beforehand; may be repeated
    #[arg(long, value_name = "CAUTION", help_heading = BEFOREHAND)]
    pub acknowledge: Vec<String>,

    /// Whom the questions are worded for; without it, as the settings say, or for the site
    #[arg(long = "for", value_enum)]
    pub audience: Option<For>,

    /// Prints the verdict as JSON
    #[arg(long, help_heading = PRINTED)]
    pub json: bool,

    /// Prints the whole verdict at a terminal too, however long it is
    #[arg(long, conflicts_with = "json", help_heading = PRINTED)]
    pub full: bool,

    /// Lets another program drive the case: a line of JSON in, lines of JSON out
    #[arg(long, conflicts_with_all = ["json", "full", "why", "answers_set", "answers"])]
    #[arg(conflicts_with = "acknowledge")]
    pub line_json: bool,

    /// What is told of the job.
    #[command(flatten)]
    pub details: DetailArguments,
}

/// Arguments of `resume`.
#[derive(Args, Clone, Debug)]
pub struct ResumeArguments {
    /// The case, by its id or its number; without it, the one you worked on last
    #[arg(allow_negative_numbers = true)]
    pub case: Option<String>,

    /// Whom the questions are worded for; without it, as the case went on last
    #[arg(long = "for", value_enum)]
    pub audience: Option<For>,

    /// Prints the verdict as JSON when it ends
    #[arg(long)]
    pub json: bool,

    /// Prints the whole verdict at a terminal too, however long it is
    #[arg(long, conflicts_with = "json")]
    pub full: bool,

    /// Opens a closed case again without asking
    #[arg(long)]
    pub reopen: bool,

    /// Lets another program drive the case: a line of JSON in, lines of JSON out
    #[arg(long, conflicts_with_all = ["json", "full"])]
    pub line_json: bool,

    /// What is told of the job.
    #[command(flatten)]
    pub details: DetailArguments,
}

/// Arguments of `rise`.
#[derive(Args, Clone, Debug)]
pub struct RiseArguments {
    /// The log, or - for standard input
    #[arg(value_name = "FILE")]
    pub log: PathBuf,

    /// What is known about the hold.
    #[command(flatten)]
    pub hold: HoldArguments,

    /// The unit of the times, where the log does not tell: s, min, mm:ss, hh:mm
    #[arg(long, value_name = "UNIT")]
    pub time_unit: Option<String>,

    /// The unit of the pressures, where the log does not tell
    #[arg(long, value_name = "UNIT")]
    pub pressure_unit: Option<String>,

    /// Draws the readings and the parts of the rise below what is told
    #[arg(long, conflicts_with = "json")]
    pub plot: bool,

    /// Writes that drawing to a file in SVG
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,

    /// Lets --svg replace a file that is there
    #[arg(long, requires = "svg")]
    pub force: bool,

    /// Prints the reading as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `why`.
#[derive(Args, Clone, Debug)]
pub struct WhyArguments {
    /// The case, if it is not the one you worked on last; or what to explain in that one
    #[arg(value_name = "CASE", allow_negative_numbers = true)]
    pub case_or_name: Option<String>,

    /// A cause, finding, question or formula by its id; without it, the whole verdict
    pub name: Option<String>,

    /// The case, wherever it stands on the line
    #[arg(long, value_name = "CASE")]
    pub case: Option<String>,
}

/// Arguments of `eval`.
#[derive(Args, Clone, Debug)]
pub struct EvalArguments {
    /// The formula
    #[arg(allow_hyphen_values = true)]
    pub formula: String,

    /// Prints every value on the way first
    #[arg(long)]
    pub working: bool,

    /// Prints the value as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `functions`.
#[derive(Args, Clone, Debug)]
pub struct FunctionsArguments {
    /// The function to explain, or a word to look for
    pub name: Option<String>,

    /// Prints the functions as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `check`.
#[derive(Args, Clone, Debug)]
pub struct CheckArguments {
    /// The handbook's folder; without it, the built-in handbook
    pub folder: Option<PathBuf>,

    /// Prints what a code means, such as H605; without one, lists all codes
    #[arg(long, value_name = "CODE", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,

    /// How the faults are written
    #[arg(long, value_enum, default_value_t = FaultFormat::Text)]
    pub format: FaultFormat,

    /// Checks again after every save, and rehearses the scenarios
    #[arg(long, conflicts_with = "explain")]
    pub watch: bool,

    /// The scenarios that --watch rehearses; without it, the folder `scenarios` if there is one
    #[arg(long, value_name = "FOLDER", requires = "watch")]
    pub scenarios: Option<PathBuf>,
}

/// How `check` writes faults.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum FaultFormat {
    /// For people, with the lines that they are about
    Text,
    /// For programs: one object
    Json,
    /// For programs that show them beside the files: SARIF 2.1.0
    Sarif,
}

/// Arguments of `rehearse`.
#[derive(Args, Clone, Debug)]
pub struct RehearseArguments {
    /// Scenario files or folders of them; without any, the folder `scenarios`
    pub scenarios: Vec<PathBuf>,

    /// The least coverage that will do, of every measure or of one; may be repeated
    #[arg(long, value_name = "[MEASURE=]PERCENT", value_parser = read_floor)]
    pub min_coverage: Vec<Floor>,

    /// How the outcome is written
    #[arg(long, value_enum, default_value_t = RehearsalFormat::Text)]
    pub format: RehearsalFormat,

    /// Takes what was found for what is expected: rewrites the values that fell short, in the
    /// files named, and prints each
    #[arg(long, conflicts_with_all = ["format", "min_coverage"])]
    pub bless: bool,

    /// Writes scenarios that reach what none has reached into a folder, for you to fill in what
    /// should come out; no file is overwritten
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["format", "bless"])]
    pub write_missing: Option<PathBuf>,

    /// Measures the built-in entries too where --rules adds to them; with --bless, lets it rewrite
    /// whole folders
    #[arg(long)]
    pub all: bool,

    /// Plays the assistant against so many simulated rigs in the place of scenarios, and says how
    /// often it was right
    #[arg(
        long,
        value_name = "NUMBER",
        value_parser = clap::value_parser!(u64).range(1..=100_000),
        conflicts_with_all = ["scenarios", "min_coverage", "bless", "write_missing", "all"],
    )]
    pub population: Option<u64>,

    /// What chance begins with; the same seed gives the same rigs
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "population")]
    pub seed: u64,

    /// The file of ranges that rigs are drawn from, in the place of the built-in one
    #[arg(long, value_name = "FILE", requires = "population")]
    pub ranges: Option<PathBuf>,

    /// Proposes shares of findings where what the rigs showed lies clearly outside the
    /// handbook's, as a diff to be looked at; nothing is written
    #[arg(long, requires = "population")]
    pub fit: bool,

    /// Plays one rig of the population alone, by its number from 0 on, and tells its whole course
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "population",
        conflicts_with_all = ["fit", "svg"],
    )]
    pub rig: Option<u64>,

    /// Draws how good the probabilities are into this file
    #[arg(long, value_name = "FILE", requires = "population")]
    pub svg: Option<PathBuf>,

    /// Replaces the picture if it is there already
    #[arg(long, requires = "svg")]
    pub force: bool,
}

/// Arguments of `compare`.
#[derive(Args, Clone, Debug)]
pub struct CompareArguments {
    /// The older handbook: a folder of rules, which may add to the built-in one, or built_in for
    /// the one that comes with the program
    pub old: PathBuf,

    /// The newer one
    pub new: PathBuf,

    /// Scenarios to run under both; without it, the folder `scenarios` if there is one
    #[arg(long, value_name = "FOLDER")]
    pub scenarios: Option<PathBuf>,

    /// Recorded cases to replay under both
    #[arg(long, value_name = "FOLDER")]
    pub cases: Option<PathBuf>,

    /// Lists also the cases in which no cause moved by more than 0.01
    #[arg(long)]
    pub all: bool,

    /// How the outcome is written
    #[arg(long, value_enum, default_value_t = CompareFormat::Text)]
    pub format: CompareFormat,
}

/// How `compare` writes what it found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum CompareFormat {
    /// For people
    Text,
    /// For programs: one object
    Json,
}

/// How `rehearse` writes what came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum RehearsalFormat {
    /// For people
    Text,
    /// For programs: one object
    Json,
    /// For programs that gather tests: JUnit XML
    Junit,
}
