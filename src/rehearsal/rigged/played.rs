//! A play: the assistant against one simulated rig.

use super::answerer::AtRig;
use super::hand::MINUTE;
use crate::bench::operation::{Operation, Refusal};
use crate::case::{Case, Ending, Event, KeepNothing, QuestionId, TreeId, interview};
use crate::evidence::Engine;
use crate::handbook::{CauseId, Handbook};

/// A play that is over.
#[derive(Debug)]
pub struct Played<'h> {
    /// The case.
    pub case: Case<'h>,
    /// How its interview ended.
    pub ending: Ending,
    /// How long it took at the rig, in minutes.
    pub minutes: f64,
    /// How many questions were answered.
    pub questions: usize,
    /// The most that water and refrigerant in the oil added to the pump's floor, in Pa.
    pub oil_added: f64,
    /// The trees that it went on with after the first.
    pub trees: Vec<TreeId>,
    /// What the rig refused.
    pub refused: Vec<(Operation, Refusal)>,
    /// What nobody could say, with why.
    pub unsure: Vec<(QuestionId, String)>,
    /// What was passed over or not taken.
    pub remarks: Vec<String>,
}

/// Plays the assistant from a tree against somebody at a rig.
#[must_use]
pub fn play<'h>(
    (handbook, engine): (&'h Handbook, &'h Engine),
    tree: TreeId,
    mut at_rig: AtRig<'_>,
) -> Played<'h> {
    let mut case = Case::open(handbook, engine, tree);
    let ending = interview(&mut case, &mut at_rig, &mut KeepNothing);
    let is_answer = |event: &&Event| matches!(event, Event::Answered { .. });
    Played {
        ending,
        minutes: at_rig.hand.session().clock() / MINUTE,
        oil_added: at_rig.hand.oil_added(),
        questions: case.events().iter().filter(is_answer).count(),
        trees: at_rig.trees().to_vec(),
        refused: at_rig.hand.refused().to_vec(),
        unsure: at_rig.unsure().iter().map(|(id, why)| (*id, why.clone())).collect(),
        remarks: at_rig.remarks().to_vec(),
        case,
    }
}

impl Played<'_> {
    /// How probable it is that a cause was there at first, before anything that was repaired in
    /// the play.
    #[must_use]
    pub fn at_first(&self, cause: CauseId) -> f64 {
        let assessment = self.case.assessment();
        let was = assessment.was.iter().find(|ranked| ranked.cause == cause);
        let now = assessment.probability(cause);
        was.map_or(now, |ranked| ranked.probability.max(now))
    }

    /// What the rig refused and what nobody could say, in a sentence each; what was refused for
    /// the same reason is told once.
    #[must_use]
    pub fn told(&self) -> Vec<String> {
        let mut reasons: Vec<(String, usize)> = Vec::new();
        for (_, refusal) in &self.refused {
            let reason = refusal.to_string();
            match reasons.iter_mut().find(|(known, _)| *known == reason) {
                Some((_, times)) => *times += 1,
                None => reasons.push((reason, 1)),
            }
        }
        let refused = reasons.into_iter().map(|(reason, times)| match times {
            1 => format!("the rig refused once: {reason}"),
            times => format!("the rig refused {times} times: {reason}"),
        });
        refused.chain(self.remarks.iter().cloned()).collect()
    }
}
