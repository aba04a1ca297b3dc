//! The interview: asks whoever answers, applies what comes back, and keeps every event.
//!
//! The loop is written once. Who answers is an [`Answerer`]: a person at a terminal, a script, or
//! a simulated rig; where events are kept is a [`Keeper`].

use super::case::{Case, Refusal};
use super::closing::Closing;
use super::event::Event;
use super::named_file::NamedFile;
use super::now::{Now, Place};
use super::reading::{Misunderstood, ReadAnswer};
use crate::handbook::{ActionId, CautionId, QuestionId, TreeId};
use crate::quantity::Slip;

/// What an answerer does about what is wanted.
#[derive(Clone, Debug, PartialEq)]
pub enum Response {
    /// Answers the question asked, as typed.
    Answer(String),
    /// The step or action is done.
    Done,
    /// What the step says is done, and its wait begins.
    Wait,
    /// An action was done that is not wanted now.
    Worked(ActionId),
    /// Passes over the step or action without doing it.
    Skip,
    /// Acknowledges a caution, with who does.
    Acknowledge(CautionId, String),
    /// Acknowledges what the stop of a danger asks for that was taken back, with who does.
    Mind(QuestionId, String),
    /// There is nothing left to run a round about.
    NoMore,
    /// Takes back the answer or deed that was given last.
    Back,
    /// Takes back the answer at a place in the order.
    TakeBack(usize),
    /// Puts right the answer of a question at a place in the order.
    Correct(QuestionId, usize, String),
    /// Answers a question out of turn.
    Volunteer(QuestionId, String),
    /// Makes a note.
    Note(String),
    /// Names a photo or another file.
    Attach(NamedFile),
    /// Goes on with another tree.
    GoOn(TreeId),
    /// Closes the case.
    Close(Closing),
    /// Stops, and keeps the case.
    Leave,
    /// There is no more input.
    EndOfInput,
    /// Was interrupted.
    Interrupted,
}

/// Why a response was not taken.
#[derive(Clone, Debug, PartialEq)]
pub enum Objection {
    /// The answer can't be read.
    Misunderstood(QuestionId, Misunderstood),
    /// The answer is outside the usual: is it what was meant?
    Doubtful(QuestionId, String, Slip),
    /// The event can't happen now.
    Refused(Refusal),
    /// The response does not fit what is wanted.
    OutOfPlace,
    /// There is nothing to take back.
    NothingToTakeBack,
}

/// Somebody or something that answers.
pub trait Answerer {
    /// Responds to what is wanted.
    fn respond(&mut self, case: &Case<'_>) -> Response;
    /// Hears that a response has changed something: see [`Case::news`].
    fn hear(&mut self, _case: &Case<'_>) {}
    /// Is told why a response was not taken. For a doubtful answer, says whether it is meant as
    /// it was typed; for everything else, whether to try again.
    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool;
    /// Is told why what happened is not kept; the case goes on all the same.
    fn unkept(&mut self, _why: &str) {}
}

/// Where events are kept before they count.
pub trait Keeper {
    /// Keeps an event, and what could not be kept before it.
    ///
    /// # Errors
    /// Why it is not kept; the case goes on all the same.
    fn keep(&mut self, event: &Event) -> Result<(), String>;
}

/// Keeps nothing: for rehearsals and tests.
#[derive(Clone, Copy, Debug, Default)]
pub struct KeepNothing;

impl Keeper for KeepNothing {
    fn keep(&mut self, _: &Event) -> Result<(), String> {
        Ok(())
    }
}

/// How an interview ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Ending {
    /// The tree is done.
    Done,
    /// The work must not go on: by a caution that was not acknowledged, or by a stop step.
    Stopped(Option<CautionId>),
    /// The user left; the case is kept.
    Left,
    /// There was no more input.
    EndOfInput,
    /// The user interrupted; the case is kept.
    Interrupted,
    /// An answer could not be taken and could not be asked again.
    Unusable(Objection),
}

impl Ending {
    /// How a case that nobody carries on has ended: leaving one that has reached its end is not
    /// leaving it early.
    #[must_use]
    pub fn of_left(case: &Case<'_>) -> Self {
        match case.now() {
            Now::Ended { .. } => Self::Done,
            Now::Stopped { .. } => Self::Stopped(None),
            Now::Acknowledge { caution, .. } => Self::Stopped(Some(*caution)),
            _ => Self::Left,
        }
    }
}

/// Runs a case until it ends.
pub fn interview(
    case: &mut Case<'_>,
    answerer: &mut dyn Answerer,
    keeper: &mut dyn Keeper,
) -> Ending {
    loop {
        let response = answerer.respond(case);
        match turn(case, &response) {
            Turn::Over(ending) => return ending,
            Turn::Objection(objection) => {
                if let Err(ending) = object(case, answerer, keeper, objection) {
                    return ending;
                }
            }
            Turn::Happens(event) => {
                if let Err(ending) = happen(case, answerer, keeper, event) {
                    return ending;
                }
            }
        }
    }
}

/// What a response comes to.
enum Turn {
    Happens(Event),
    Objection(Objection),
    Over(Ending),
}

fn object(
    case: &mut Case<'_>,
    answerer: &mut dyn Answerer,
    keeper: &mut dyn Keeper,
    objection: Objection,
) -> Result<(), Ending> {
    let goes_on = answerer.object(case, &objection);
    match objection {
        Objection::Doubtful(question, typed, _) if goes_on => {
            match answered(case, question, &typed, true) {
                Turn::Happens(event) => happen(case, answerer, keeper, event),
                _ => Ok(()),
            }
        }
        Objection::Doubtful(..) => Ok(()),
        Objection::Refused(Refusal::NeedsAcknowledgement(caution)) if !goes_on => {
            Err(Ending::Stopped(Some(caution)))
        }
        other if !goes_on => Err(Ending::Unusable(other)),
        _ => Ok(()),
    }
}

fn happen(
    case: &mut Case<'_>,
    answerer: &mut dyn Answerer,
    keeper: &mut dyn Keeper,
    event: Event,
) -> Result<(), Ending> {
    match case.apply(event.clone()) {
        Ok(()) => {
            if let Err(why) = keeper.keep(&event) {
                answerer.unkept(&why);
            }
            answerer.hear(case);
            Ok(())
        }
        Err(refusal) => object(case, answerer, keeper, Objection::Refused(refusal)),
    }
}

fn turn(case: &Case<'_>, response: &Response) -> Turn {
    match response {
        Response::Answer(typed) => match case.now() {
            Now::Ask { question, names_a_round: true, .. }
                if names_nothing(case, *question, typed) =>
            {
                no_more(case)
            }
            Now::Ask { question, .. } => answered(case, *question, typed, false),
            _ => Turn::Objection(Objection::OutOfPlace),
        },
        Response::Volunteer(question, typed) => answered(case, *question, typed, false),
        Response::Correct(question, order, typed) => correct(case, *question, *order, typed),
        Response::Done => done(case),
        Response::Worked(action) => worked(case, *action),
        Response::Wait => wait(case),
        Response::Skip => skip(case),
        Response::Acknowledge(caution, by) => Turn::Happens(Event::Acknowledged {
            caution: case.handbook().caution(*caution).id.clone(),
            by: by.clone(),
        }),
        Response::Mind(question, by) => Turn::Happens(Event::Minded {
            question: case.handbook().question(*question).id.clone(),
            by: by.clone(),
        }),
        Response::NoMore => no_more(case),
        Response::Back => take_back(case.given_last()),
        Response::TakeBack(order) => take_back(Some(*order)),
        Response::Note(text) => Turn::Happens(Event::Noted { text: text.clone() }),
        Response::Attach(file) => Turn::Happens(Event::Attached { file: file.clone() }),
        Response::GoOn(tree) => {
            Turn::Happens(Event::WentOn { tree: case.handbook().tree(*tree).id.clone() })
        }
        Response::Close(closing) => Turn::Happens(Event::Closed { closing: closing.clone() }),
        Response::Leave => Turn::Over(Ending::of_left(case)),
        Response::EndOfInput => Turn::Over(match Ending::of_left(case) {
            Ending::Left => Ending::EndOfInput,
            ended => ended,
        }),
        Response::Interrupted => Turn::Over(Ending::Interrupted),
    }
}

fn answered(case: &Case<'_>, id: QuestionId, typed: &str, is_meant: bool) -> Turn {
    match case.read(id, typed) {
        Err(misunderstood) => Turn::Objection(Objection::Misunderstood(id, misunderstood)),
        Ok(read) => match read.slip {
            Some(slip) if !is_meant => {
                Turn::Objection(Objection::Doubtful(id, typed.to_owned(), slip))
            }
            _ => Turn::Happens(given(case, id, read)),
        },
    }
}

/// Whether what was typed names nothing to run a round about: "skip" and "not sure" are no names.
fn names_nothing(case: &Case<'_>, question: QuestionId, typed: &str) -> bool {
    case.read(question, typed).is_ok_and(|read| !read.reply.is_known())
}

fn wait(case: &Case<'_>) -> Turn {
    match case.now() {
        Now::Do { place, wait: Some(seconds), .. } => {
            let (tree, step) = ids(case, place);
            Turn::Happens(Event::Waited { tree, step, seconds: *seconds })
        }
        _ => Turn::Objection(Objection::OutOfPlace),
    }
}

/// An answer at the end of the order, or in the place of the one that was taken back.
fn given(case: &Case<'_>, id: QuestionId, read: ReadAnswer) -> Event {
    let (typed, reply, bare_in) = (read.echo, read.reply, read.bare_in);
    match case.now() {
        Now::Ask { question, in_place_of: Some(answer), .. } if *question == id => {
            Event::Corrected { answer: *answer, typed, reply, bare_in }
        }
        _ => {
            let question = case.handbook().question(id).id.clone();
            Event::Answered { question, typed, reply, bare_in }
        }
    }
}

/// The answer at a place in the order is to be another one. What is out of the usual was asked
/// back when it was typed.
fn correct(case: &Case<'_>, id: QuestionId, answer: usize, typed: &str) -> Turn {
    match case.read(id, typed) {
        Err(misunderstood) => Turn::Objection(Objection::Misunderstood(id, misunderstood)),
        Ok(ReadAnswer { reply, echo: typed, bare_in, .. }) => {
            Turn::Happens(Event::Corrected { answer, typed, reply, bare_in })
        }
    }
}

fn done(case: &Case<'_>) -> Turn {
    match case.now() {
        Now::Do { place, .. } => {
            let (tree, step) = ids(case, place);
            Turn::Happens(Event::Did { tree, step })
        }
        Now::Act { action, place } => {
            let (tree, step) = ids(case, place);
            let action = case.handbook().action(*action).id.clone();
            Turn::Happens(Event::Acted { action, tree, step })
        }
        Now::Ended { .. } => Turn::Over(Ending::Done),
        Now::Stopped { .. } => Turn::Over(Ending::Stopped(None)),
        Now::Acknowledge { .. } | Now::Ask { .. } => Turn::Objection(Objection::OutOfPlace),
    }
}

/// Work that was told out of turn. No step is passed by it: what is read behind a step has to be read
/// after it was called for.
fn worked(case: &Case<'_>, action: ActionId) -> Turn {
    match case.now() {
        Now::Act { action: wanted, .. } if *wanted == action => done(case),
        _ => Turn::Happens(Event::Acted {
            action: case.handbook().action(action).id.clone(),
            tree: case.handbook().tree(case.tree()).id.clone(),
            step: String::new(),
        }),
    }
}

fn skip(case: &Case<'_>) -> Turn {
    match case.now() {
        Now::Do { place, .. } | Now::Act { place, .. } => {
            let (tree, step) = ids(case, place);
            Turn::Happens(Event::Skipped { tree, step })
        }
        _ => Turn::Objection(Objection::OutOfPlace),
    }
}

/// The ids of a place's tree and step.
fn ids(case: &Case<'_>, place: &Place) -> (String, String) {
    let tree = case.handbook().tree(place.tree);
    (tree.id.clone(), tree.step(place.step).id.clone())
}

fn no_more(case: &Case<'_>) -> Turn {
    match case.now() {
        Now::Ask { names_a_round: true, place, .. } => {
            Turn::Happens(Event::RoundsEnded { tree: case.handbook().tree(place.tree).id.clone() })
        }
        _ => Turn::Objection(Objection::OutOfPlace),
    }
}

fn take_back(order: Option<usize>) -> Turn {
    match order {
        Some(order) => Turn::Happens(Event::TakenBack { order }),
        None => Turn::Objection(Objection::NothingToTakeBack),
    }
}
