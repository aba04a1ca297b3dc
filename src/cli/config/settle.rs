//! Each setting by its precedence: the command line, the environment, the configuration file, the
//! program's own.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};
use clap::ValueEnum;
use etcetera::BaseStrategy;

use super::file::{Configuration, read};
use super::units::{OwnUnits, usual};
use crate::book::Book;
use crate::cli::arguments::{Arguments, For};
use crate::cli::coloured::Coloured;
use crate::quantity::UnitExpression;

/// The variable that names the configuration file; empty, there is none.
const FILE: &str = "DRYHOLD_CONFIG";

/// A variable of the environment by its name; none where it is empty or not there.
type Environment<'e> = &'e dyn Fn(&str) -> Option<OsString>;

/// In which unit each of the handbook's is shown.
pub(in crate::cli) type Instead = Vec<(String, UnitExpression)>;

/// What a run goes by that stands in no argument.
#[derive(Clone, Debug, Default)]
pub(in crate::cli) struct Settings {
    /// Whom questions are worded for, where the command line doesn't say.
    pub audience: Option<For>,
    /// In which unit each of the handbook's is shown to a person.
    pub units: Instead,
    /// Every setting, as `config` shows it.
    pub rows: Vec<Row>,
}

/// A setting, its value, and where that is from.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub(in crate::cli) struct Row {
    pub setting: &'static str,
    pub value: String,
    pub from: String,
}

/// Where a value is from, and the value.
struct Found<T> {
    value: Option<T>,
    from: String,
}

impl<T> Found<T> {
    /// The first of these that says something.
    fn first(by: [(Option<T>, &str); 3]) -> Self {
        for (value, from) in by {
            if value.is_some() {
                return Self { value, from: from.to_owned() };
            }
        }
        Self { value: None, from: "default".to_owned() }
    }

    fn row(&self, setting: &'static str, told: impl Fn(&T) -> String, usual: &str) -> Row {
        let value = self.value.as_ref().map_or_else(|| usual.to_owned(), told);
        Row { setting, value, from: self.from.clone() }
    }
}

/// Puts into the arguments what they leave open, and tells the rest.
///
/// # Errors
/// If the file or a variable can't be used.
pub(in crate::cli) fn settle(
    arguments: &mut Arguments,
    audience: Option<For>,
    environment: Environment<'_>,
) -> Result<Settings> {
    let home = etcetera::home_dir().ok();
    let path = path(environment);
    let read = path.as_deref().map(|path| read(path, home.as_deref())).transpose()?.flatten();
    let file = match (&path, &read) {
        (Some(path), Some(_)) => path.display().to_string(),
        (Some(path), None) => format!("{}, which is not there", path.display()),
        (None, _) => "none".to_owned(),
    };
    let rest = read.unwrap_or_default();
    let mut rows = vec![Row { setting: "config", value: file, from: from_of(environment, FILE) }];
    let named = path.map(|path| path.display().to_string()).unwrap_or_default();
    rows.push(book(arguments, &rest, environment, &named));
    rows.extend(rules(arguments, &rest, environment, &named));
    rows.push(plain(arguments, &rest, environment, &named));
    rows.push(colour(arguments, &rest, environment, &named));
    let (audience, row) = worded_for(audience, &rest, environment, &named)?;
    rows.push(row);
    let (units, own) = units(&rest, environment, &named)?;
    rows.extend(own);
    Ok(Settings { audience, units, rows })
}

/// The file that is looked for: the one of the environment, or the platform's.
fn path(environment: Environment<'_>) -> Option<PathBuf> {
    match environment(FILE) {
        Some(named) => (!named.is_empty()).then(|| named.into()),
        None => {
            let strategy = etcetera::choose_base_strategy().ok()?;
            Some(strategy.config_dir().join("dryhold").join("config.yaml"))
        }
    }
}

fn from_of(environment: Environment<'_>, variable: &str) -> String {
    environment(variable).map_or_else(|| "default".to_owned(), |_| variable.to_owned())
}

/// A variable that says something.
fn variable(environment: Environment<'_>, name: &str) -> Option<OsString> {
    environment(name).filter(|value| !value.is_empty())
}

fn book(
    arguments: &mut Arguments,
    rest: &Configuration,
    environment: Environment<'_>,
    file: &str,
) -> Row {
    let found = Found::first([
        (arguments.book.take(), "--book"),
        (variable(environment, "DRYHOLD_BOOK").map(PathBuf::from), "DRYHOLD_BOOK"),
        (rest.book.clone(), file),
    ]);
    let usual = Book::of_the_platform().map(|book| shown(book.folder()));
    let row = found.row("book", |book| shown(book), &usual.unwrap_or_else(|| "none".to_owned()));
    arguments.book = found.value;
    row
}

/// Rules that are added, rules instead of the built-in ones, and where each is named.
type NamedRules<'n> = (Option<Vec<PathBuf>>, Option<PathBuf>, [&'n str; 2]);

/// Rules that are added and rules instead exclude each other, so that whichever is named nearer to
/// the command counts alone.
fn rules(
    arguments: &mut Arguments,
    rest: &Configuration,
    environment: Environment<'_>,
    file: &str,
) -> [Row; 2] {
    let added =
        variable(environment, "DRYHOLD_RULES").map(|all| std::env::split_paths(&all).collect());
    let instead = variable(environment, "DRYHOLD_ONLY_RULES").map(PathBuf::from);
    let by: [NamedRules<'_>; 3] = [
        (
            Some(std::mem::take(&mut arguments.rules)).filter(|rules| !rules.is_empty()),
            arguments.only_rules.take(),
            ["--rules", "--only-rules"],
        ),
        (added, instead, ["DRYHOLD_RULES", "DRYHOLD_ONLY_RULES"]),
        (rest.rules.clone(), rest.only_rules.clone(), [file, file]),
    ];
    let named = by.into_iter().find(|(added, instead, _)| added.is_some() || instead.is_some());
    let (added, instead, [from_added, from_instead]) =
        named.unwrap_or((None, None, ["default", "default"]));
    let told = |rules: &Vec<PathBuf>| {
        rules.iter().map(|rules| shown(rules)).collect::<Vec<_>>().join(", ")
    };
    let added = Found::first([(added, from_added), (None, ""), (None, "")]);
    let instead = Found::first([(instead, from_instead), (None, ""), (None, "")]);
    let rows = [
        added.row("rules", told, "none added"),
        instead.row("only_rules", |rules| shown(rules), "the built-in handbook"),
    ];
    arguments.only_rules = instead.value;
    // Of one and the same place, what replaces all leaves nothing to add to.
    arguments.rules = added.value.filter(|_| arguments.only_rules.is_none()).unwrap_or_default();
    rows
}

fn plain(
    arguments: &mut Arguments,
    rest: &Configuration,
    environment: Environment<'_>,
    file: &str,
) -> Row {
    let accessible = variable(environment, "ACCESSIBLE").filter(|value| value != "0");
    let found = Found::first([
        (arguments.plain.then_some(true), "--plain"),
        (accessible.map(|_| true), "ACCESSIBLE"),
        (rest.plain, file),
    ]);
    // What the environment asks for is looked at with the terminal.
    arguments.plain |= rest.plain == Some(true);
    found.row("plain", |plain| if *plain { "yes" } else { "no" }.to_owned(), "no")
}

/// What the environment asks for is looked at with the terminal, and only kept from the file here.
fn colour(
    arguments: &mut Arguments,
    rest: &Configuration,
    environment: Environment<'_>,
    file: &str,
) -> Row {
    let is = |name: &str, on: bool| {
        variable(environment, name).is_some_and(|value| (value != "0") == on)
    };
    let (by_environment, from) = match () {
        () if variable(environment, "NO_COLOR").is_some() => (Some(Coloured::Never), "NO_COLOR"),
        () if is("CLICOLOR_FORCE", true) => (Some(Coloured::Always), "CLICOLOR_FORCE"),
        () if is("CLICOLOR", false) => (Some(Coloured::Never), "CLICOLOR"),
        () => (None, ""),
    };
    let by_file = rest.color.filter(|_| by_environment.is_none());
    let found =
        Found::first([(arguments.color, "--color"), (by_environment, from), (by_file, file)]);
    arguments.color = arguments.color.or(by_file);
    found.row("color", |colour| word(*colour), "auto")
}

fn worded_for(
    told: Option<For>,
    rest: &Configuration,
    environment: Environment<'_>,
    file: &str,
) -> Result<(Option<For>, Row)> {
    let by_environment = variable(environment, "DRYHOLD_FOR")
        .map(|value| {
            let text = value.to_string_lossy();
            For::from_str(&text, false)
                .map_err(|_| anyhow!("DRYHOLD_FOR is `{text}`; there are site and phone"))
        })
        .transpose()?;
    let found =
        Found::first([(told, "--for"), (by_environment, "DRYHOLD_FOR"), (rest.audience, file)]);
    let row = found.row("for", |audience| word(*audience), "site");
    Ok((found.value, row))
}

fn units(
    rest: &Configuration,
    environment: Environment<'_>,
    file: &str,
) -> Result<(Instead, Vec<Row>)> {
    let listed = variable(environment, "DRYHOLD_UNITS")
        .map(|value| OwnUnits::listed(&value.to_string_lossy()).context("DRYHOLD_UNITS"))
        .transpose()?
        .unwrap_or_default();
    rest.units.instead().with_context(|| format!("the configuration {file}: units"))?;
    let pairs = listed.all().into_iter().zip(rest.units.all());
    let mut chosen = OwnUnits::default();
    let mut rows = Vec::new();
    for ((measure, by_environment), (_, by_file)) in pairs {
        let found = Found::first([
            (None, ""),
            (by_environment.cloned(), "DRYHOLD_UNITS"),
            (by_file.cloned(), file),
        ]);
        rows.push(found.row(measure, String::clone, usual(measure)));
        *chosen.of_mut(measure) = found.value;
    }
    Ok((chosen.instead()?, rows))
}

fn word(value: impl ValueEnum) -> String {
    value.to_possible_value().map(|value| value.get_name().to_owned()).unwrap_or_default()
}

fn shown(path: &Path) -> String {
    path.display().to_string()
}
