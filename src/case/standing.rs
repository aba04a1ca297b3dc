//! What stands of a case's events after corrections and taking back, and which places are free.

use super::event::Event;
use crate::evidence::{Given, Record};
use crate::handbook::{Handbook, QuestionId};

/// The events that stand.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Standing {
    /// By place in the order: those taken back are none, corrected answers are as corrected.
    pub events: Vec<Option<Event>>,
    /// Answers that were taken back and not given anew in their places, in order.
    pub gaps: Vec<Gap>,
}

/// The place of an answer that was taken back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Gap {
    /// The question.
    pub question: QuestionId,
    /// The place in the order.
    pub order: usize,
}

impl Standing {
    /// What stands of events.
    pub(super) fn of(handbook: &Handbook, events: &[Event]) -> Self {
        let standing = standing(events);
        let gap = |(order, event): (usize, &Event)| match event {
            Event::Answered { question, .. } if standing[order].is_none() => {
                Some(Gap { question: handbook.find_question(question)?, order })
            }
            _ => None,
        };
        let gaps = events.iter().enumerate().filter_map(gap).collect();
        Self { events: standing, gaps }
    }

    /// The facts among them.
    pub(super) fn record(&self, handbook: &Handbook) -> Record {
        let mut record = Record::default();
        for (order, event) in self.events.iter().enumerate() {
            match event {
                Some(Event::Answered { question, typed, reply, bare_in }) => {
                    if let Some(question) = handbook.find_question(question) {
                        let (reply, typed) = (reply.clone(), typed.clone());
                        let bare_in = bare_in.clone();
                        record.given.push(Given { question, reply, typed, bare_in, order });
                    }
                }
                Some(Event::Acted { action, .. }) => {
                    record.done.extend(handbook.find_action(action).map(|action| (action, order)));
                }
                _ => {}
            }
        }
        record
    }

    /// The first place among free ones of a question that lies after `from` and before something
    /// that was done, which in turn came before the place `until`. An answer that is given for it
    /// later tells of the time before that was done, and must not count as made after it.
    pub(super) fn gap(
        &self,
        question: QuestionId,
        from: Option<usize>,
        until: Option<usize>,
    ) -> Option<usize> {
        let is_deed = |event: &Event| {
            matches!(event, Event::Did { .. } | Event::Skipped { .. } | Event::Acted { .. })
        };
        let end = until.unwrap_or(self.events.len());
        let last = self.events.iter().take(end).rposition(|e| e.as_ref().is_some_and(is_deed))?;
        let after = |order| from.is_none_or(|from| order > from);
        let mut gaps = self.gaps.iter().filter(|gap| gap.question == question);
        gaps.find(|gap| after(gap.order) && gap.order < last).map(|gap| gap.order)
    }
}

fn standing(events: &[Event]) -> Vec<Option<Event>> {
    let mut standing: Vec<Option<Event>> = events.iter().cloned().map(Some).collect();
    for (at, event) in events.iter().enumerate() {
        match event {
            Event::TakenBack { order } if *order < at => {
                standing[*order] = None;
                standing[at] = None;
            }
            Event::Corrected { answer, typed, reply, bare_in } if *answer < at => {
                if let Event::Answered { question, .. } = &events[*answer] {
                    let (question, typed) = (question.clone(), typed.clone());
                    let (reply, bare_in) = (reply.clone(), bare_in.clone());
                    standing[*answer] = Some(Event::Answered { question, typed, reply, bare_in });
                }
                standing[at] = None;
            }
            _ => {}
        }
    }
    standing
}
