//! An exercise that goes on: the rig, what has been seen of it, and the way so far.

use std::collections::BTreeMap;

use super::act::{Act, AtJoints, Section};
use super::dealing::Dealt;
use super::operations;
use super::refusing::Unsafe;
use super::step::Step;
use super::story::story;
use super::stretch::{Leg, LegKind};
use crate::bench::gauge::Reading;
use crate::bench::operation::{Operation, Outcome, Refusal};
use crate::bench::session::Session;
use crate::case::Case;
use crate::evidence::Engine;
use crate::handbook::{Handbook, QuestionId};
use crate::rehearsal::rigged::{Hand, RigAnswers};
use crate::text::{Line, Role};

/// A minute in s.
pub(super) const MINUTE: f64 = 60.0;

/// What an exercise is judged by.
#[derive(Debug)]
pub struct Ground {
    /// The handbook.
    pub handbook: Handbook,
    /// Its engine.
    pub engine: Engine,
    /// What is done at a rig for each of its questions.
    pub mapping: RigAnswers,
}

/// What came of an act.
#[derive(Clone, Debug)]
pub struct Told {
    /// It in words.
    pub lines: Vec<Line>,
    /// Whether it was done.
    pub is_done: bool,
}

/// A rise that is read.
#[derive(Clone, Debug)]
pub(super) struct Rising {
    /// The readings with their times in s since it began.
    pub readings: Vec<(f64, Reading)>,
    /// The clock in s when it began.
    pub begun: f64,
    /// The temperature in K then.
    pub temperature: f64,
    /// Whether it is of the system behind its own valve.
    pub is_hold: bool,
}

/// A spot that is warmed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Warmed {
    pub section: Section,
    pub before: Reading,
    pub rate: f64,
    pub clock: f64,
    pub temperature: f64,
}

/// What has changed since the last hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Between {
    Nothing,
    PumpedOn,
    Warmed,
    Swept,
    OtherRig,
}

/// What is remembered of the rig on the way.
#[derive(Clone, Debug)]
pub(super) struct Notes {
    /// What the gauge showed since anything was changed, with the clock in s.
    pub log: Vec<(f64, Reading)>,
    /// The answers given since then, with their places in the order.
    pub orders: BTreeMap<QuestionId, (usize, String)>,
    /// The leg that is going on.
    pub leg: Option<usize>,
    pub rising: Option<Rising>,
    /// How fast the last hold that was told rose at its end, in Pa/s.
    pub rate: Option<f64>,
    pub between: Between,
    /// For how long in s the pump has pulled on the system through this way.
    pub pulled: f64,
    pub warmed: Option<Warmed>,
    pub standing_since: Option<f64>,
    /// The sections that were brushed and didn't bubble.
    pub dry: Vec<Section>,
    pub has_stood_in_air: bool,
    pub ballast_was_open: bool,
    pub part: Option<AtJoints>,
}

/// An exercise that goes on.
#[derive(Debug)]
pub struct Exercise<'g> {
    pub(super) ground: &'g Ground,
    pub(super) dealt: Dealt,
    pub(super) hand: Hand,
    /// The clock in s when the trainee came.
    began: f64,
    /// The clock in s up to which time belongs to a leg.
    pub(super) accounted: f64,
    /// What was seen so far, as the assistant would take it.
    pub(super) case: Case<'g>,
    pub(super) notes: Notes,
    pub(super) legs: Vec<Leg>,
    steps: Vec<Step>,
    pub(super) unsafe_steps: Vec<Unsafe>,
    pub(super) unread: Vec<String>,
}

impl<'g> Exercise<'g> {
    /// A trainee comes to a rig that was dealt. Nothing where the handbook has no tree to begin
    /// with.
    #[must_use]
    pub fn begin(ground: &'g Ground, dealt: Dealt) -> Option<Self> {
        let tree = ground.handbook.first_tree()?;
        let hand = dealt.hand.clone();
        let began = hand.session().clock();
        let rising = Rising {
            readings: vec![(0.0, dealt.reading)],
            begun: began,
            temperature: hand.session().temperature(crate::bench::rig::Place::Section(0)),
            is_hold: true,
        };
        let notes = Notes {
            log: Vec::new(),
            orders: BTreeMap::new(),
            leg: None,
            rising: Some(rising),
            rate: None,
            between: Between::Nothing,
            pulled: hand.pulled_for(),
            warmed: None,
            standing_since: None,
            dry: Vec::new(),
            has_stood_in_air: false,
            ballast_was_open: false,
            part: None,
        };
        let case = Case::open(&ground.handbook, &ground.engine, tree);
        let mut exercise = Self {
            ground,
            dealt,
            hand,
            began,
            accounted: began,
            case,
            notes,
            legs: Vec::new(),
            steps: Vec::new(),
            unsafe_steps: Vec::new(),
            unread: Vec::new(),
        };
        exercise.tell_what_is_known();
        Some(exercise)
    }

    /// What is told before the first act, a paragraph each.
    #[must_use]
    pub fn story(&self) -> Vec<Line> {
        story(&self.dealt).into_iter().map(told_as_heading).collect()
    }

    /// The rig as it was dealt.
    #[must_use]
    pub fn dealt(&self) -> &Dealt {
        &self.dealt
    }

    /// What it is judged by.
    #[must_use]
    pub fn ground(&self) -> &'g Ground {
        self.ground
    }

    /// How many minutes have passed since the trainee came.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        (self.session().clock() - self.began) / MINUTE
    }

    /// The way so far.
    #[must_use]
    pub fn legs(&self) -> &[Leg] {
        &self.legs
    }

    /// Everything that was done or refused, in order.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// The hazardous acts: those that were refused, and those that were done.
    #[must_use]
    pub fn unsafe_steps(&self) -> &[Unsafe] {
        &self.unsafe_steps
    }

    /// What the assistant would hold from what has been seen.
    #[must_use]
    pub fn case(&self) -> &Case<'g> {
        &self.case
    }

    /// What could not be taken as an answer; empty where the words fit the handbook.
    #[must_use]
    pub fn unread(&self) -> &[String] {
        &self.unread
    }

    /// The most that water and refrigerant in the oil added to the pump's floor, in Pa.
    #[must_use]
    pub fn oil_added(&self) -> f64 {
        self.hand.oil_added()
    }

    pub(super) fn session(&self) -> &Session {
        self.hand.session()
    }

    pub(super) fn perform(&mut self, operation: Operation) -> Result<Outcome, Refusal> {
        self.hand.perform(operation)
    }

    /// Does something, and tells what came of it. What would be hazardous is not done.
    pub fn act(&mut self, act: Act) -> Told {
        let (at, begun) = (self.minutes(), self.session().clock());
        let told = match self.of_the_vacuum(act) {
            Some((why, precaution)) => {
                let lines = self.refused_for(act, &why, precaution, at);
                Told { lines, is_done: false }
            }
            None => self.try_act(act, at),
        };
        if act == Act::Lock && told.is_done {
            self.keep_lock_out(begun);
        }
        let words: Vec<String> = told.lines.iter().map(Line::to_text).collect();
        self.steps.push(Step {
            minutes: self.minutes(),
            did: act.told(),
            refused: !told.is_done,
            shown: words.join(" "),
        });
        told
    }

    /// Keeps a lock-out as a leg of its own. What passed before it still belongs to the test that comes.
    fn keep_lock_out(&mut self, begun: f64) {
        let took = self.session().clock() - begun;
        self.accounted += took;
        let leg = Leg { minutes: took / MINUTE, ..self.new_leg(LegKind::LockOut) };
        self.legs.push(leg);
    }

    /// Ends the way: what is left of the time belongs to no test, and was idle.
    pub fn end(&mut self) {
        let rest = (self.session().clock() - self.accounted) / MINUTE;
        self.accounted = self.session().clock();
        if rest > 0.05 {
            let leg = Leg { minutes: rest, idle: rest, ..self.new_leg(LegKind::Rest) };
            self.legs.push(leg);
        }
    }

    /// Whether an operation can be done at this rig at all: not every one has a second gauge.
    #[must_use]
    pub fn has(&self, operation: &operations::Operation) -> bool {
        operation.act(&[]) != Some(Act::Second) || self.hand.kit().second.is_some()
    }

    /// How it stands, a line each: what is connected, the clock, what was seen.
    #[must_use]
    pub fn board(&self) -> Vec<Line> {
        let mut lines = vec![Line::plain(self.standing())];
        for step in self.steps.iter().filter(|step| !step.refused) {
            let at = format!("{:.0} min: ", step.minutes);
            lines.push(Line::new().push(Role::Quiet, at).push(Role::Plain, step.in_words()));
        }
        lines
    }
}

/// A paragraph whose first words, up to the colon, are its heading.
fn told_as_heading(text: String) -> Line {
    match text.split_once(": ") {
        Some((head, rest)) => {
            Line::new().push(Role::Strong, format!("{head}: ")).push(Role::Plain, rest)
        }
        None => Line::plain(text),
    }
}
