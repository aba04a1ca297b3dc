//! Hazardous acts: refused or done, they are told and counted.

use super::act::Act;
use super::caution::{Precaution, precaution};
use super::exercise::{Exercise, Told};
use crate::bench::operation::Refusal;
use crate::text::Line;

/// A hazardous act.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsafe {
    /// What was to be done.
    pub act: Act,
    /// Whether it was done all the same; else it was refused.
    pub was_done: bool,
    /// When, in minutes since the beginning.
    pub at: f64,
    /// What could have happened, and what comes first.
    pub precaution: Precaution,
}

impl Exercise<'_> {
    /// Does something; what the rig refuses is not done.
    pub(super) fn try_act(&mut self, act: Act, at: f64) -> Told {
        let unlocked = self.of_the_lock(act);
        match self.do_act(act) {
            Ok(lines) => {
                let caution =
                    unlocked.map(|precaution| self.caution_of_the_lock(act, precaution, at));
                Told { lines: caution.into_iter().chain(lines).collect(), is_done: true }
            }
            Err(refusal) => Told { lines: self.refused(act, refusal, at), is_done: false },
        }
    }

    /// Time that passes without a lock is one unsafe step, however often it does.
    fn caution_of_the_lock(&mut self, act: Act, precaution: Precaution, at: f64) -> Line {
        if !self.unsafe_steps.iter().any(|step| step.was_done) {
            self.unsafe_steps.push(Unsafe { act, was_done: true, at, precaution });
        }
        Line::warning(format!(
            "The system stands in deep vacuum and its compressor is not locked out. {} {}",
            precaution.caution, precaution.first
        ))
    }

    fn refused(&mut self, act: Act, refusal: Refusal, at: f64) -> Vec<Line> {
        match precaution(refusal) {
            Some(precaution) => self.refused_for(act, &refusal, precaution, at),
            None => vec![Line::plain(format!("That can't be done: {refusal}."))],
        }
    }

    pub(super) fn refused_for(
        &mut self,
        act: Act,
        why: &dyn std::fmt::Display,
        precaution: Precaution,
        at: f64,
    ) -> Vec<Line> {
        self.unsafe_steps.push(Unsafe { act, was_done: false, at, precaution });
        vec![
            Line::warning(format!("Not done: {why}. {}", precaution.caution)),
            Line::plain(precaution.first),
        ]
    }
}
