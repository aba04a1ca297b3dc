//! Functions that have been applied already, with what came of it.
//!
//! The same law is put to the same columns again and again: by the views of a case that see the
//! same answers, and by the case as it was one answer ago. Two columns are the same where their
//! bits are, so that what is kept is what would have been worked out.

use std::cell::RefCell;
use std::sync::Arc;

use super::Draws;
use super::functions::{Function, Refusal};
use super::hold::HoldReadings;

/// What came of applying a function: the draws, and the first refusal.
pub(super) type Outcome = (Draws<f64>, Option<Refusal>);

/// How many applications are kept (limit of ours: a case of 200 answers has some fifty that differ at a time).
const MOST_KEPT: usize = 256;
/// Every so many rows one goes into the hash that is compared before the columns are.
const HASHED_EVERY: usize = 64;

/// Functions that have been applied, the latest few hundred of them.
#[derive(Debug, Default)]
pub struct Applied {
    kept: RefCell<Kept>,
}

#[derive(Debug, Default)]
struct Kept {
    hashes: Vec<u64>,
    applications: Vec<Application>,
    /// The place of the next one, once all are taken.
    next: usize,
}

#[derive(Debug)]
struct Application {
    to: Inputs,
    outcome: Outcome,
}

/// What a function is applied to.
#[derive(Clone, Debug)]
pub(super) struct Inputs {
    function: &'static str,
    hold: Option<Arc<HoldReadings>>,
    columns: Vec<Option<Draws<f64>>>,
}

impl Inputs {
    /// A function with its columns, in the order of its parameters, and the hold that it reads.
    pub(super) fn new(
        function: &Function,
        hold: Option<Arc<HoldReadings>>,
        columns: Vec<Option<Draws<f64>>>,
    ) -> Self {
        Self { function: function.name, hold, columns }
    }

    fn hash(&self) -> u64 {
        let named = self.function.bytes().map(u64::from);
        let held = self.hold.iter().map(|hold| Arc::as_ptr(hold) as u64);
        let mixed = |hash: u64, bits: u64| (hash.rotate_left(5) ^ bits).wrapping_mul(ODD);
        let start = named.chain(held).fold(self.columns.len() as u64, mixed);
        self.columns.iter().fold(start, |hash, column| {
            let values = column.as_ref().map_or(&[][..], Draws::values);
            let hash = mixed(hash, values.len() as u64);
            values.iter().step_by(HASHED_EVERY).map(|value| value.to_bits()).fold(hash, mixed)
        })
    }

    fn is(&self, other: &Self) -> bool {
        let is_same_hold = match (&self.hold, &other.hold) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (None, None) => true,
            _ => false,
        };
        is_same_hold
            && self.function == other.function
            && self.columns.len() == other.columns.len()
            && self.columns.iter().zip(&other.columns).all(|(one, other)| match (one, other) {
                (Some(one), Some(other)) => is_same(one, other),
                (None, None) => true,
                _ => false,
            })
    }
}

/// An odd number near the golden share of 2^64, as Fibonacci hashing takes it (Knuth, The Art of
/// Computer Programming, volume 3, from memory).
const ODD: u64 = 0x9e37_79b9_7f4a_7c15;

/// Whether two columns are the same bit for bit.
fn is_same(one: &Draws<f64>, other: &Draws<f64>) -> bool {
    match (one, other) {
        (Draws::Same(one), Draws::Same(other)) => one.to_bits() == other.to_bits(),
        (Draws::Each(one), Draws::Each(other)) => {
            let is_equal = |(one, other): (&f64, &f64)| one.to_bits() == other.to_bits();
            Arc::ptr_eq(one, other)
                || (one.len() == other.len() && one.iter().zip(&**other).all(is_equal))
        }
        _ => false,
    }
}

impl Applied {
    /// What came of it the last time, or else what comes of it now.
    pub(super) fn outcome(&self, to: Inputs, apply: impl FnOnce() -> Outcome) -> Outcome {
        let hash = to.hash();
        if let Some(known) = self.kept.borrow().find(hash, &to) {
            return known;
        }
        let outcome = apply();
        let application = Application { to, outcome: outcome.clone() };
        self.kept.borrow_mut().keep(hash, application);
        outcome
    }
}

impl Kept {
    fn find(&self, hash: u64, to: &Inputs) -> Option<Outcome> {
        let places = self.hashes.iter().zip(&self.applications);
        let mut same = places.filter(|(known, one)| **known == hash && one.to.is(to));
        same.next().map(|(_, one)| one.outcome.clone())
    }

    fn keep(&mut self, hash: u64, application: Application) {
        if self.hashes.len() < MOST_KEPT {
            self.hashes.push(hash);
            self.applications.push(application);
            return;
        }
        self.hashes[self.next] = hash;
        self.applications[self.next] = application;
        self.next = (self.next + 1) % MOST_KEPT;
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::super::functions::find_function;
    use super::super::{DRAWS, stream};
    use super::*;

    fn inputs(name: &str, column: Draws<f64>) -> Inputs {
        Inputs::new(find_function(name).unwrap(), None, vec![Some(column)])
    }

    #[test]
    fn the_same_bits_are_worked_out_once_and_others_anew() {
        let applied = Applied::default();
        let worked_out = Cell::new(0);
        let apply = |to: Inputs, gives: f64| {
            let (draws, _) = applied.outcome(to, || {
                worked_out.set(worked_out.get() + 1);
                (Draws::Same(gives), None)
            });
            draws.at(0)
        };
        let column = || Draws::Each(stream("a").to_vec().into());
        assert_eq!(apply(inputs("abs", column()), 1.0), 1.0);
        assert_eq!(apply(inputs("abs", column()), 2.0), 1.0);
        // A row that the hash leaves out makes another column all the same.
        let mut other = stream("a").to_vec();
        other[HASHED_EVERY + 1] += 1e-9;
        assert_eq!(apply(inputs("abs", Draws::Each(other.into())), 3.0), 3.0);
        assert_eq!(apply(inputs("sqrt", column()), 4.0), 4.0);
        assert_eq!(apply(inputs("abs", Draws::Same(0.0)), 5.0), 5.0);
        assert_eq!(apply(inputs("abs", Draws::Same(-0.0)), 6.0), 6.0);
        assert_eq!(worked_out.get(), 5);
    }

    #[test]
    fn of_very_many_the_latest_are_kept() {
        let applied = Applied::default();
        let number = |n: usize| Draws::Same(n as f64);
        let of = |n: usize| applied.outcome(inputs("abs", number(n)), || (number(DRAWS + n), None));
        let all = MOST_KEPT + 10;
        (0..all).for_each(|n| drop(of(n)));
        let again = |n: usize| {
            let to = inputs("abs", number(n));
            applied.kept.borrow().find(to.hash(), &to).is_some()
        };
        assert!(!again(0) && !again(9) && again(10) && again(all - 1));
    }
}
