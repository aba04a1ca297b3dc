//! Trying a tree out: from any of its steps, with what is known beforehand.

use std::collections::VecDeque;

use super::case::Case;
use super::event::Event;
use super::face;
use super::interview::{Answerer, Objection, Response};
use super::now::{Now, Place};
use crate::evidence::Engine;
use crate::handbook::{Handbook, QuestionId};

/// What is given to a tree that is tried out. The first answer to each question is known from the
/// start; further ones answer it when it is asked again. What is to be done counts as done, and
/// cautions as acknowledged: nobody works on anything. It leaves at a question without an answer.
///
/// Such a case is not for a book: its first event does not say at which step it began.
#[derive(Clone, Debug)]
pub struct Trial {
    /// Where it began.
    pub from: Place,
    /// How many answers were known from the start.
    pub known: usize,
    later: Vec<(QuestionId, VecDeque<String>)>,
    /// The cautions that were passed, in order.
    pub acknowledged: Vec<String>,
    /// What was objected to.
    pub remarks: Vec<String>,
}

impl Trial {
    /// Opens a case at a step with answers as typed.
    ///
    /// # Errors
    /// Why an answer can't be read.
    pub fn open<'h>(
        handbook: &'h Handbook,
        engine: &'h Engine,
        from: Place,
        given: Vec<(QuestionId, Vec<String>)>,
    ) -> Result<(Case<'h>, Self), String> {
        let mut facts = Vec::new();
        let mut later = Vec::new();
        let names = handbook.tree(from.tree).rounds;
        if let Some(question) = names.filter(|id| !given.iter().any(|(known, _)| known == id)) {
            // A round is named before anything in it counts.
            facts.push(fact(handbook, question, UNNAMED, &[])?);
        }
        let mut given: Vec<(QuestionId, VecDeque<String>)> =
            given.into_iter().map(|(id, typed)| (id, typed.into())).collect();
        // A face is known before what is read from it.
        given.sort_by_key(|(id, _)| (Some(*id) != names, !face::tells_one(handbook, *id)));
        for (question, mut typed) in given {
            if let Some(first) = typed.pop_front() {
                facts.push(fact(handbook, question, &first, &facts)?);
            }
            later.push((question, typed));
        }
        let known = facts.len();
        let case = Case::tried(handbook, engine, from, facts);
        let trial = Self { from, known, later, acknowledged: Vec::new(), remarks: Vec::new() };
        Ok((case, trial))
    }

    fn next(&mut self, question: QuestionId) -> Option<String> {
        self.later.iter_mut().find(|(id, _)| *id == question)?.1.pop_front()
    }
}

/// What the first round is called where nobody has named it.
const UNNAMED: &str = "the first";

fn fact(
    handbook: &Handbook,
    id: QuestionId,
    typed: &str,
    known: &[Event],
) -> Result<Event, String> {
    let question = &handbook.question(id).id;
    let read = face::read(handbook, id, face::said_in(handbook, id, known), typed)
        .map_err(|why| format!("`{question}`: {}", why.message))?;
    let (typed, reply, bare_in) = (read.echo, read.reply, read.bare_in);
    Ok(Event::Answered { question: question.clone(), typed, reply, bare_in })
}

impl Answerer for Trial {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        match case.now() {
            Now::Ask { question, .. } => match self.next(*question) {
                Some(typed) => Response::Answer(typed),
                None => Response::Leave,
            },
            Now::Acknowledge { caution, .. } => {
                self.acknowledged.push(case.handbook().caution(*caution).id.clone());
                Response::Acknowledge(*caution, "trial".to_owned())
            }
            Now::Do { .. } | Now::Act { .. } => Response::Done,
            Now::Ended { .. } | Now::Stopped { .. } => Response::Leave,
        }
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        match objection {
            Objection::Doubtful(question, _, slip) => {
                let id = &case.handbook().question(*question).id;
                self.remarks.push(format!("`{id}`: {}; taken as typed", slip.message));
                true
            }
            Objection::Misunderstood(question, why) => {
                let id = &case.handbook().question(*question).id;
                self.remarks.push(format!("`{id}`: {}", why.message));
                false
            }
            Objection::Refused(refusal) => {
                self.remarks.push(refusal.to_string());
                false
            }
            Objection::OutOfPlace | Objection::NothingToTakeBack => false,
        }
    }
}
