//! The assistant at the same rig: its way with the minutes, and what it comes to.

use super::dealing::Dealt;
use super::exercise::{Ground, MINUTE};
use super::leading::verdict;
use crate::bench::operation::Operation;
use crate::case::{
    Answerer, Case, CauseId, KeepNothing, Now, Objection, QuestionId, Response, TreeId, interview,
};
use crate::rehearsal::rigged::AtRig;
use crate::rehearsal::rigged::population::OIL_IS_WET_FROM;

/// A leg of the assistant's way: what it did in one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// The title of the tree.
    pub title: String,
    /// How many minutes it took.
    pub minutes: f64,
    /// The readings that were told, as they were typed.
    pub readings: Vec<String>,
}

/// What the assistant came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Assisted {
    /// Its way, in order.
    pub legs: Vec<Leg>,
    /// How long it took at the rig, in minutes.
    pub minutes: f64,
    /// Whether it was settled.
    pub is_settled: bool,
    /// What led at the end, none for nothing wrong, with what else was more likely there at first
    /// than not; each with how probable that is, likeliest first.
    pub held: Vec<(Option<CauseId>, f64)>,
    /// Whether what it pumped through the oil made that wet.
    pub has_wet_oil: bool,
}

/// Somebody at the rig who does as the assistant says, with a watch.
struct Watched<'m> {
    at_rig: AtRig<'m>,
    legs: Vec<(TreeId, f64, Vec<String>)>,
}

impl Watched<'_> {
    fn clock(&self) -> f64 {
        self.at_rig.hand.session().clock()
    }
}

impl Answerer for Watched<'_> {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        let before = self.clock();
        let (tree, asked) = standing(case);
        let response = self.at_rig.respond(case);
        let minutes = (self.clock() - before) / MINUTE;
        let reading = match (&response, asked) {
            (Response::Answer(typed), Some(id)) if is_reading(case, id, typed) => Some(typed),
            _ => None,
        };
        let Some(tree) = tree.filter(|_| minutes > 0.0) else { return response };
        if self.legs.last().is_none_or(|(last, ..)| *last != tree) {
            self.legs.push((tree, 0.0, Vec::new()));
        }
        if let Some((_, sum, readings)) = self.legs.last_mut() {
            *sum += minutes;
            readings.extend(reading.cloned());
        }
        response
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        self.at_rig.object(case, objection)
    }
}

/// The tree that is gone through, and the question that is asked.
fn standing(case: &Case<'_>) -> (Option<TreeId>, Option<QuestionId>) {
    match case.now() {
        Now::Ask { place, question, .. } => (Some(place.tree), Some(*question)),
        Now::Do { place, .. } | Now::Act { place, .. } => (Some(place.tree), None),
        _ => (None, None),
    }
}

/// Whether something was read off a gauge, in a word or two; a hold is told by its tree.
fn is_reading(case: &Case<'_>, id: QuestionId, typed: &str) -> bool {
    case.handbook().question(id).instrument.is_some() && typed.len() < 20 && typed != "not sure"
}

/// Plays the assistant at the rig as it was dealt: it locks the compressor out, and begins.
/// Nothing where the handbook has no tree to begin with.
#[must_use]
pub fn assisted(ground: &Ground, dealt: &Dealt) -> Option<Assisted> {
    let tree = ground.handbook.first_tree()?;
    let mut hand = dealt.hand.clone();
    let began = hand.session().clock();
    // Nothing forbids it at any rig.
    let _ = hand.perform(Operation::LockOut);
    let mut watched = Watched { at_rig: AtRig::new(hand, &ground.mapping, []), legs: Vec::new() };
    let mut case = Case::open(&ground.handbook, &ground.engine, tree);
    interview(&mut case, &mut watched, &mut KeepNothing);
    let minutes = (watched.clock() - began) / MINUTE;
    let titled = |(tree, minutes, readings): (TreeId, f64, Vec<String>)| Leg {
        title: ground.handbook.tree(tree).title.clone(),
        minutes,
        readings,
    };
    Some(Assisted {
        minutes,
        is_settled: case.assessment().settled,
        held: verdict(&case),
        has_wet_oil: watched.at_rig.hand.oil_added() > OIL_IS_WET_FROM,
        legs: watched.legs.into_iter().map(titled).collect(),
    })
}
