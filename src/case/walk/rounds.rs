//! Trees that run in rounds, once for each thing that a person names.

use super::{Advance, Walker};
use crate::case::event::Event;
use crate::case::now::{Now, Passage, Passed, Place, RoundEnd};
use crate::evidence::Round;
use crate::handbook::{QuestionId, StepKind, TreeId};
use crate::text::Line;

impl Walker<'_> {
    /// A tree that runs in rounds asks at each beginning what the round is about.
    pub(super) fn begin_round(&mut self) -> Option<Advance> {
        let place = self.place();
        let question = self.tree().rounds?;
        if self.frame().round_from.is_some() || self.is_before_its_first_visit(place) {
            return None;
        }
        let named = self.next_answer(question);
        let ended = self.rounds_ended(place.tree);
        match (named, ended) {
            (Some(order), ended) if ended.is_none_or(|end| order < end) => {
                self.consume(question);
                self.close_round(place.tree, order);
                self.record.rounds.push(Round { tree: place.tree, from: order, until: None });
                self.keep_what_holds();
                self.time = self.time.max(order);
                self.path.push(Passed { place, passage: Passage::Event(order) });
                self.frame().round_from = Some(order);
                None
            }
            (_, Some(order)) => {
                self.close_round(place.tree, order);
                self.keep_what_holds();
                self.time = self.time.max(order);
                let done = format!("{}: done.", self.tree().title);
                Some(self.leave_tree(|_| Now::Ended {
                    done: Line::plain(done),
                    then: Vec::new(),
                    closes: None,
                }))
            }
            _ => Some(Advance::Wanted(Now::Ask {
                question,
                place,
                asked_before: self.consumed.get(&question).copied().unwrap_or(0),
                in_place_of: None,
                names_a_round: true,
            })),
        }
    }

    /// Whether a tree begins with another one that is still to be gone through: what has to be safe
    /// before anything is touched comes before the name of what is fitted.
    fn is_before_its_first_visit(&mut self, place: Place) -> bool {
        let tree = self.tree();
        let is_visit = matches!(tree.step(tree.start).kind, StepKind::Visit(_));
        let is_first = !self.record.rounds.iter().any(|round| round.tree == place.tree);
        is_visit && is_first && place.step == tree.start
    }

    /// Keeps what a round has come to, with the place at which an action was passed over in it, and
    /// goes back to the tree's start for the next one.
    pub(super) fn end_round(&mut self, done: impl FnOnce(&Self) -> Line, left_at: Option<usize>) {
        let (start, time) = (self.tree().start, self.time);
        let frame = self.frame();
        let from = frame.round_from.take();
        frame.step = start;
        frame.work_from = None;
        frame.entered.clear();
        let Some(from) = from else { return };
        let earlier =
            self.earlier.and_then(|earlier| earlier.round_ends.get(self.round_ends.len()));
        let is_same = |end: &&RoundEnd| (end.from, end.until, end.left_at) == (from, time, left_at);
        // What was known then is known, so its words are the same.
        let said = earlier.filter(is_same).map(|end| end.done.clone());
        let done = said.unwrap_or_else(|| done(self));
        self.round_ends.push(RoundEnd { from, until: time, left_at, done });
    }

    /// Passes over work that was done, and keeps when it was called for.
    pub(super) fn worked(&mut self, place: Place, order: usize) -> Advance {
        let called_for = self.time;
        let frame = self.frame();
        frame.work_from = frame.round_from.map(|_| called_for);
        self.passed(place, Passage::Event(order))
    }

    /// The latest of the deeds that the way has come by: an answer asked for behind it is one of the
    /// time after it, also in the place of one that was taken back together with what led there.
    pub(super) fn last_deed(&self) -> Option<usize> {
        let orders = self.path.iter().filter_map(|passed| match passed.passage {
            Passage::Event(order) => Some(order),
            Passage::Known(_) | Passage::Through => None,
        });
        let is_deed = |order: &usize| {
            let event = self.standing.events.get(*order);
            matches!(
                event,
                Some(Some(Event::Did { .. } | Event::Skipped { .. } | Event::Acted { .. }))
            )
        };
        orders.filter(is_deed).max()
    }

    /// From when on an answer stands for what a step of a round asks. A reading that is measured
    /// anew has to be told since its work was called for: what was read before was read of another
    /// rig.
    pub(super) fn round_of(&mut self, question: QuestionId, again: bool) -> Option<usize> {
        let asked = self.handbook.question(question);
        // A setting belongs to the case, so an answer from before the round stands.
        let (is_setting, is_read) = (asked.is_setting(), asked.instrument.is_some());
        let frame = self.frame();
        let work = frame.work_from.filter(|_| again && is_read);
        let from = frame.round_from.filter(|_| again || !is_setting)?;
        Some(work.map_or(from, |work| work.max(from)))
    }

    fn close_round(&mut self, tree: TreeId, at: usize) {
        if let Some(round) = self.record.rounds.iter_mut().rev().find(|r| r.tree == tree) {
            round.until.get_or_insert(at);
        }
    }

    fn rounds_ended(&self, tree: TreeId) -> Option<usize> {
        let id = &self.handbook.tree(tree).id;
        self.standing.events.iter().enumerate().skip(self.time).find_map(|(order, event)| {
            match event {
                Some(Event::RoundsEnded { tree }) if tree == id => Some(order),
                _ => None,
            }
        })
    }
}
