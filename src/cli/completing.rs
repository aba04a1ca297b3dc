//! What a shell is offered while somebody types a command: commands, options and files by their
//! definitions, and the ids of the handbook and of the book that the line names.

mod answers;
mod behind;

use std::ffi::{OsStr, OsString};
use std::io::Write;
use std::path::PathBuf;

use clap::{Command, CommandFactory, Parser};
use clap_complete::engine::{ArgValueCompleter, CompletionCandidate};
use clap_complete::env::Shells;

use self::answers::answers;
use self::behind::Behind;
use super::arguments::Arguments;
use super::config::settle;
use super::exit::ExitStatus;
use super::load::{load_built_in, load_folder};
use crate::book::Book;
use crate::built_in::built_in_handbook;
use crate::diagnostic::{CODES, Code};
use crate::formula::functions;
use crate::handbook::{Handbook, MARKS};
use crate::quantity::NAMED_KINDS;

/// The variable by which a shell's script asks; it holds the shell's name.
pub const COMPLETES_FOR: &str = "DRYHOLD_COMPLETE";

/// What is offered for a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Offer {
    Trees,
    /// Ids of questions, each with the sign that an answer follows; behind the sign its answers.
    Answers,
    Cautions,
    Causes,
    /// All of which it can be told what stands behind it.
    Names,
    Cases,
    Kinds,
    Functions,
    Sources,
    Codes,
}

/// What is offered where: by the command, and the id of its argument.
const OFFERS: &[(&str, &str, Offer)] = &[
    ("diagnose", "tree", Offer::Trees),
    ("diagnose", "answers_set", Offer::Answers),
    ("diagnose", "acknowledge", Offer::Cautions),
    ("diagnose", "why", Offer::Names),
    ("resume", "case", Offer::Cases),
    ("report", "case", Offer::Cases),
    ("close", "case", Offer::Cases),
    ("close", "fixed_by", Offer::Causes),
    ("cases", "cause", Offer::Causes),
    ("export", "case", Offer::Cases),
    ("why", "case_or_name", Offer::Names),
    ("why", "name", Offer::Names),
    ("why", "case", Offer::Cases),
    ("try", "tree", Offer::Trees),
    ("try", "answers_set", Offer::Answers),
    ("graph", "tree", Offer::Trees),
    ("graph", "case", Offer::Cases),
    ("print", "tree", Offer::Trees),
    ("check", "explain", Offer::Codes),
    ("functions", "name", Offer::Functions),
    ("sources", "id", Offer::Sources),
    ("units", "kind", Offer::Kinds),
];

/// Writes what a shell may go on with behind the words typed so far, of which the first is the
/// program's own name. They follow `--` in what the shell's script passes on.
pub fn complete(
    shell: &OsStr,
    passed: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> ExitStatus {
    let words: Vec<OsString> = passed.into_iter().skip_while(|word| word != "--").skip(1).collect();
    let here = std::env::current_dir().ok();
    let name = shell.to_string_lossy();
    let shells = Shells::builtins();
    let Some(shell) = shells.completer(&name) else {
        let known: Vec<&str> = shells.names().collect();
        // There is nobody left to tell if standard error can't be written either.
        let _ =
            writeln!(err, "dryhold: no shell `{name}` is known; there are {}", known.join(", "));
        return ExitStatus::Unusable;
    };
    let mut command = completed(&Line::typed(&words).settled());
    let written = match Behind::sign(&words, &name) {
        Some(behind) => behind.complete(&mut command, here.as_deref(), out),
        None => shell.write_complete(&mut command, words, here.as_deref(), out),
    };
    match written {
        Ok(()) => ExitStatus::Settled,
        Err(_) => ExitStatus::Unusable,
    }
}

/// The folders that a line names, on which its ids hang.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Line {
    rules: Vec<PathBuf>,
    only_rules: Option<PathBuf>,
    book: Option<PathBuf>,
}

impl Line {
    /// Of a line that is not complete, so it can't be read as a whole.
    fn typed(words: &[OsString]) -> Self {
        let mut line = Self::default();
        let mut words = words.iter();
        while let Some(word) = words.next() {
            let text = word.to_string_lossy();
            let (option, value) = match text.split_once('=') {
                Some((option, value)) => (option.to_owned(), Some(PathBuf::from(value))),
                None => (text.into_owned(), None),
            };
            let mut value = || value.clone().or_else(|| words.next().map(PathBuf::from));
            match option.as_str() {
                "--rules" => line.rules.extend(value()),
                "--only-rules" => line.only_rules = value(),
                "--book" => line.book = value(),
                _ => {}
            }
        }
        line
    }

    /// The same with what the environment and the configuration file name where the line doesn't. What
    /// is wrong with them is told when a command runs.
    fn settled(self) -> Self {
        let Ok(mut arguments) = Arguments::try_parse_from(["dryhold"]) else { return self };
        arguments.rules.clone_from(&self.rules);
        arguments.only_rules.clone_from(&self.only_rules);
        arguments.book.clone_from(&self.book);
        match settle(&mut arguments, None, &|name| std::env::var_os(name)) {
            Ok(_) => Self {
                rules: arguments.rules,
                only_rules: arguments.only_rules,
                book: arguments.book,
            },
            Err(_) => self,
        }
    }

    /// The handbook; none where it has errors, of which `check` tells.
    fn handbook(&self) -> Option<Handbook> {
        let loaded = match &self.only_rules {
            Some(folder) => load_folder(folder),
            None if self.rules.is_empty() => return built_in_handbook(),
            None => load_built_in(&self.rules),
        };
        loaded.ok()?.compiled.handbook
    }

    fn book(&self) -> Option<Book> {
        self.book.as_ref().map(Book::at).or_else(Book::of_the_platform)
    }

    /// The answers that a question takes, each behind its id and the sign.
    fn answers(&self, id: &str) -> Vec<(String, Option<String>)> {
        self.handbook().map(|handbook| answers(&handbook, id)).unwrap_or_default()
    }

    /// The values of an offer, each with what it is called.
    fn offered(&self, offer: Offer) -> Vec<(String, Option<String>)> {
        let known =
            |texts: Vec<&str>| texts.iter().map(|text| ((*text).to_owned(), None)).collect();
        match offer {
            Offer::Cases => {
                let cases = self.book().map(|book| book.cases()).unwrap_or_default();
                cases.into_iter().map(|case| (case.id, None)).collect()
            }
            Offer::Kinds => known(NAMED_KINDS.iter().map(|kind| kind.name).collect()),
            Offer::Functions => {
                functions().map(|f| (f.name.to_owned(), Some(f.says.to_owned()))).collect()
            }
            Offer::Codes => {
                let told = |code: &Code| (code.number().to_owned(), Some(code.title().to_owned()));
                CODES.iter().map(told).collect()
            }
            of_the_handbook => {
                let handbook = self.handbook();
                handbook.map(|handbook| ids(&handbook, of_the_handbook)).unwrap_or_default()
            }
        }
    }
}

/// Ids of a handbook, with the name of what they stand for.
fn ids(handbook: &Handbook, offer: Offer) -> Vec<(String, Option<String>)> {
    let causes =
        || handbook.causes().iter().map(|cause| (cause.id.clone(), Some(cause.name.clone())));
    let questions = || handbook.questions().iter().map(|question| &question.id);
    match offer {
        Offer::Trees => {
            let trees = handbook.trees().iter();
            trees.map(|tree| (tree.id.clone(), Some(tree.title.clone()))).collect()
        }
        Offer::Answers => questions().map(|id| (format!("{id}="), None)).collect(),
        Offer::Cautions => {
            let cautions = handbook.cautions().iter();
            cautions.map(|caution| (caution.id.clone(), None)).collect()
        }
        Offer::Causes => causes().collect(),
        Offer::Names => {
            let findings = handbook.findings().iter().map(|finding| finding.id.clone());
            let formulas = handbook.formulas().iter().map(|formula| formula.id.clone());
            let others = findings.chain(questions().cloned()).chain(formulas);
            causes().chain(others.map(|id| (id, None))).collect()
        }
        Offer::Sources => {
            let sources = handbook.references().iter();
            let marks = MARKS.iter().map(|(mark, _)| ((*mark).to_owned(), None));
            sources.map(|source| (source.id.clone(), None)).chain(marks).collect()
        }
        Offer::Cases | Offer::Kinds | Offer::Functions | Offer::Codes => Vec::new(),
    }
}

/// The commands with what is offered for their values.
fn completed(line: &Line) -> Command {
    OFFERS.iter().fold(Arguments::command(), |command, (of, argument, offer)| {
        let (line, offer) = (line.clone(), *offer);
        let completer = ArgValueCompleter::new(move |typed: &OsStr| {
            let typed = typed.to_string_lossy();
            let offered = match (offer, typed.split_once('=')) {
                (Offer::Answers, Some((id, _))) => line.answers(id),
                _ => line.offered(offer),
            };
            let fitting = offered.into_iter().filter(|(value, _)| value.starts_with(&*typed));
            fitting
                .map(|(value, name)| CompletionCandidate::new(value).help(name.map(Into::into)))
                .collect::<Vec<_>>()
        });
        command.mut_subcommand(of, |command| command.mut_arg(argument, |it| it.add(completer)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What such a value stands for is known to the handbook, the book or the language.
    const KNOWN: [&str; 7] =
        ["TREE", "CASE", "CAUSE", "CAUTION", "CODE", "KIND", "QUESTION=ANSWER"];

    #[test]
    fn every_value_that_names_something_known_is_offered() {
        let mut known = 0;
        for command in Arguments::command().get_subcommands() {
            for argument in command.get_arguments() {
                let id = argument.get_id().as_str();
                let named = argument.get_value_names().and_then(|names| names.first());
                let name = named.map_or_else(|| id.to_uppercase(), |name| name.to_string());
                let is_known =
                    KNOWN.contains(&name.as_str()) && argument.get_possible_values().is_empty();
                let is_this = |(of, it): (&str, &str)| (of, it) == (command.get_name(), id);
                let is_offered = OFFERS.iter().any(|(of, it, _)| is_this((of, it)));
                assert!(!is_known || is_offered, "{} {id} {name}", command.get_name());
                known += usize::from(is_known);
            }
        }
        assert!(known > 12, "{known}");
    }

    #[test]
    fn every_offer_holds_something() {
        let line = Line::default();
        for (command, argument, offer) in OFFERS {
            let many = line.offered(*offer).len();
            assert!(*offer == Offer::Cases || many > 0, "{command} {argument}");
        }
    }

    #[test]
    fn the_folders_of_a_line_are_read_before_it_is_complete() {
        let typed =
            ["dryhold", "--book=b", "resume", "--rules", "r", "--only-rules", "o", "--rules"];
        let words: Vec<OsString> = typed.iter().map(OsString::from).collect();
        let [rules, only, book] = ["r", "o", "b"].map(PathBuf::from);
        let expected = Line { rules: vec![rules], only_rules: Some(only), book: Some(book) };
        assert_eq!(Line::typed(&words), expected);
    }
}
