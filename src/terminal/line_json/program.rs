//! Another program as the one who answers a case.

use std::collections::BTreeSet;
use std::io::Write;

use serde_json::Value as Json;

use super::request::{Request, Typed};
use super::told::{doubtful, news, objected, objection, taken, unkept, verdict};
use super::wanted::wanted;
use crate::case::{
    Answerer, Case, CautionId, Closing, FixedBy, NamedFile, Now, Objection, QuestionId, Refusal,
    Response,
};
use crate::diagnostic::near_name;
use crate::terminal::input::{Heard, LineSource, too_long};
use crate::terminal::person::dangers_in;
use crate::text::is_inert;

/// How many lines one sitting may take before the input counts as ended; an estimate: far more than
/// a day's work.
const MOST_LINES: usize = 5_000;

/// The most characters of a note or a name (limit of ours: a page of a record).
const LONGEST_TEXT: usize = 2_000;

/// A program that reads and writes lines of JSON.
pub struct Program<'p> {
    lines: &'p mut dyn LineSource,
    out: &'p mut dyn Write,
    /// Whether nobody reads what is written any more.
    is_deaf: bool,
    /// Whether the answer sent last is meant though it is out of the usual.
    is_meant: bool,
    /// What was sent as an answer last.
    typed: String,
    /// The cautions that were told, which may be acknowledged.
    told: BTreeSet<CautionId>,
    taken: usize,
    /// Whether the case was closed in this sitting.
    has_closed: bool,
}

impl std::fmt::Debug for Program<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Program").field("taken", &self.taken).finish_non_exhaustive()
    }
}

/// A line that can't be taken, as the objection to it.
type Refused = Json;

impl<'p> Program<'p> {
    /// A program that sends these lines and reads what is written.
    pub fn new(lines: &'p mut dyn LineSource, out: &'p mut dyn Write) -> Self {
        Self {
            lines,
            out,
            is_deaf: false,
            is_meant: false,
            typed: String::new(),
            told: BTreeSet::new(),
            taken: 0,
            has_closed: false,
        }
    }

    /// Writes one object on a line of its own, to be read at once.
    pub fn tell(&mut self, object: &Json) {
        let line = steering_nothing(&object.to_string());
        let written = writeln!(self.out, "{line}").and_then(|()| self.out.flush());
        self.is_deaf |= written.is_err();
    }

    fn next(&mut self, case: &Case<'_>) -> Response {
        // Nothing is left to be asked.
        if self.has_closed {
            return Response::Leave;
        }
        loop {
            if let Now::Acknowledge { caution, .. } = case.now() {
                self.told.insert(*caution);
            }
            self.tell(&wanted(case));
            if self.is_deaf || self.taken >= MOST_LINES {
                return Response::EndOfInput;
            }
            self.taken += 1;
            let line = match self.lines.next_line() {
                Heard::Line(line) if line.trim().is_empty() => continue,
                Heard::Line(line) => line,
                Heard::TooLong => {
                    self.tell(&objection("too_long", &too_long()));
                    continue;
                }
                Heard::End => return Response::EndOfInput,
                Heard::Interrupt => return Response::Interrupted,
            };
            match self.read(case, &line) {
                Ok(Some(response)) => return response,
                Ok(None) => {}
                Err(refused) => self.tell(&refused),
            }
        }
    }

    /// What a line asks for; none if it was told at once.
    fn read(&mut self, case: &Case<'_>, line: &str) -> Result<Option<Response>, Refused> {
        let request = serde_json::from_str(line).map_err(|error| {
            objection("unreadable", &format!("The line can't be read: {error}."))
        })?;
        Ok(Some(match request {
            Request::Answer { question, typed, meant } => {
                self.answer(case, question.as_deref(), typed, meant)?
            }
            Request::Correct { answer, typed, meant } => correct(case, answer, typed, meant)?,
            Request::Done {} => Response::Done,
            Request::Wait {} => Response::Wait,
            Request::Skip {} => Response::Skip,
            Request::Worked { action } => {
                let found = case.handbook().find_action(&action);
                let all = case.handbook().actions().iter().map(|action| action.id.as_str());
                Response::Worked(named("action", &action, found, all)?)
            }
            Request::Acknowledge { caution, by } => self.acknowledge(case, &caution, by)?,
            Request::Mind { question, by } => {
                Response::Mind(find_question(case, &question)?, name(by)?)
            }
            Request::NoMore {} => Response::NoMore,
            Request::Back {} => Response::Back,
            Request::TakeBack { order } => Response::TakeBack(order),
            Request::Note { text, meant } => note(case, text, meant)?,
            Request::Attach { name: file } => Response::Attach(NamedFile::elsewhere(&name(file)?)),
            Request::GoOn { tree } => {
                let found = case.handbook().find_tree(&tree);
                let all = case.handbook().trees().iter().map(|tree| tree.id.as_str());
                Response::GoOn(named("tree", &tree, found, all)?)
            }
            Request::Close { fixed_by, proved, note } => {
                let closing = close(case, fixed_by, proved, note)?;
                self.has_closed = true;
                closing
            }
            Request::Verdict {} => {
                let verdict = verdict(case, None);
                self.tell(&verdict);
                return Ok(None);
            }
            Request::Leave {} => Response::Leave,
        }))
    }

    fn answer(
        &mut self,
        case: &Case<'_>,
        question: Option<&str>,
        Typed(typed): Typed,
        is_meant: bool,
    ) -> Result<Response, Refused> {
        let asked = match case.now() {
            Now::Ask { question, .. } => Some(*question),
            _ => None,
        };
        let id = match (question, asked) {
            (Some(name), _) => find_question(case, name)?,
            (None, Some(asked)) => asked,
            (None, None) => {
                let message = "No question is wanted now; name the one that this answers with \
                               \"question\".";
                return Err(objection("out_of_place", message));
            }
        };
        if case.question_view(id).takes_words && !is_meant {
            no_danger(case, &typed)?;
        }
        self.is_meant = is_meant;
        self.typed.clone_from(&typed);
        Ok(match asked == Some(id) {
            true => Response::Answer(typed),
            false => Response::Volunteer(id, typed),
        })
    }

    fn acknowledge(&self, case: &Case<'_>, caution: &str, by: String) -> Result<Response, Refused> {
        let found = case.handbook().find_caution(caution);
        let all = case.handbook().cautions().iter().map(|caution| caution.id.as_str());
        let id = named("caution", caution, found, all)?;
        if !self.told.contains(&id) {
            let message = format!(
                "Caution `{caution}` was not told yet; it is acknowledged once somebody has read it."
            );
            return Err(objection("out_of_place", &message));
        }
        Ok(Response::Acknowledge(id, name(by)?))
    }
}

impl Answerer for Program<'_> {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        self.next(case)
    }

    fn hear(&mut self, case: &Case<'_>) {
        self.tell(&taken(case));
        // At a danger, what an answer speaks for is beside the point.
        if !matches!(case.now(), Now::Stopped { .. })
            && let Some(news) = news(case)
        {
            self.tell(&news);
        }
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        let mut object = objected(case, objection);
        match objection {
            Objection::Doubtful(..) if self.is_meant => return true,
            Objection::Doubtful(..) => {
                self.tell(&object);
                return false;
            }
            Objection::Refused(Refusal::NeedsAcknowledgement(caution)) => {
                self.told.insert(*caution);
            }
            Objection::Misunderstood(..) => {
                object["may_tell_of"] = ids(case, &dangers_in(case, &self.typed));
            }
            _ => {}
        }
        self.tell(&object);
        true
    }

    fn unkept(&mut self, why: &str) {
        self.tell(&unkept(why));
    }
}

/// The line with every character escaped that would steer a terminal on which somebody looks at it.
fn steering_nothing(line: &str) -> String {
    if is_inert(line) {
        return line.to_owned();
    }
    let mut escaped = String::with_capacity(line.len());
    for c in line.chars() {
        match is_inert(c.encode_utf8(&mut [0; 4])) {
            true => escaped.push(c),
            false => c
                .encode_utf16(&mut [0; 2])
                .iter()
                .for_each(|unit| escaped.push_str(&format!("\\u{unit:04x}"))),
        }
    }
    escaped
}

fn correct(
    case: &Case<'_>,
    answer: usize,
    Typed(typed): Typed,
    is_meant: bool,
) -> Result<Response, Refused> {
    let given = case.record().given.iter().find(|given| given.order == answer);
    let Some(id) = given.map(|given| given.question) else {
        let message = format!("There is no answer at place {answer} that could be put right.");
        return Err(objection("nothing_there", &message));
    };
    if let Some(slip) = case.read(id, &typed).ok().and_then(|read| read.slip)
        && !is_meant
    {
        let question = case.question_view(id).id;
        return Err(doubtful(question, &typed, &slip.message, slip.suggestion.as_ref()));
    }
    Ok(Response::Correct(id, answer, typed))
}

fn note(case: &Case<'_>, text: String, is_meant: bool) -> Result<Response, Refused> {
    let text = name(text)?;
    if !is_meant {
        no_danger(case, &text)?;
    }
    Ok(Response::Note(text))
}

fn close(
    case: &Case<'_>,
    fixed_by: FixedBy,
    proved: bool,
    note: Option<String>,
) -> Result<Response, Refused> {
    if let FixedBy::Cause(cause) = &fixed_by {
        let all = case.handbook().causes().iter().map(|cause| cause.id.as_str());
        named("cause", cause, case.handbook().find_cause(cause), all)?;
    }
    let note = note.map(name).transpose()?;
    Ok(Response::Close(Closing { fixed_by, proved, note }))
}

/// A text that says something and fits a record.
fn name(text: String) -> Result<String, Refused> {
    match text.trim() {
        "" => Err(objection("misunderstood", "The text is empty.")),
        trimmed if trimmed.chars().count() > LONGEST_TEXT => {
            let message = format!("The text has more than {LONGEST_TEXT} characters.");
            Err(objection("misunderstood", &message))
        }
        _ => Ok(text),
    }
}

/// A text that stands for itself, unless its words may tell of a danger.
fn no_danger(case: &Case<'_>, text: &str) -> Result<(), Refused> {
    let dangers = dangers_in(case, text);
    if dangers.is_empty() {
        return Ok(());
    }
    let message = "These words may tell of a danger: ask that first and answer it; send them again \
                   with \"meant\": true if they tell of none.";
    let mut object = objection("danger_told", message);
    object["may_tell_of"] = ids(case, &dangers);
    Err(object)
}

fn ids(case: &Case<'_>, questions: &[QuestionId]) -> Json {
    questions.iter().map(|id| Json::from(case.question_view(*id).id)).collect()
}

fn find_question(case: &Case<'_>, id: &str) -> Result<QuestionId, Refused> {
    let all = case.handbook().questions().iter().map(|question| question.id.as_str());
    named("question", id, case.handbook().find_question(id), all)
}

/// What has a name; else that nothing has it, and what is called nearly so.
fn named<'n, T>(
    what: &str,
    name: &str,
    found: Option<T>,
    all: impl Iterator<Item = &'n str>,
) -> Result<T, Refused> {
    found.ok_or_else(|| {
        let near = near_name(name, all);
        let near = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
        objection("unknown_name", &format!("The handbook has no {what} `{name}`{near}"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_steer_a_terminal_is_escaped_and_reads_back() {
        let object = Json::from("a\u{7f}b\u{9b}2J\u{202e}c\u{e0001}d\u{1b}[m");
        let line = steering_nothing(&object.to_string());
        assert!(is_inert(&line), "{line}");
        assert_eq!(serde_json::from_str::<Json>(&line).unwrap(), object);
    }
}
