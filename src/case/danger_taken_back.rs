//! Dangers that were told and taken back: the case keeps that they were told.

use super::case::Case;
use super::event::Event;
use crate::evidence::Reply;
use crate::handbook::QuestionId;

/// A dangerous answer that was put right or taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DangerTakenBack {
    /// The safety question.
    pub question: QuestionId,
    /// The dangerous answer, as people read it.
    pub told: String,
    /// The answer that stands now, as people read it; none where it was not answered anew.
    pub now: Option<String>,
    /// Who acknowledged since what its stop asks for.
    pub minded_by: Option<String>,
}

impl Case<'_> {
    /// The dangers that were told and taken back, each question once, in the order of taking back; none
    /// whose danger is told again.
    #[must_use]
    pub fn dangers_taken_back(&self) -> Vec<DangerTakenBack> {
        let mut told: Vec<(usize, QuestionId)> = Vec::new();
        let mut taken_back: Vec<(QuestionId, Option<String>)> = Vec::new();
        for (at, event) in self.events().iter().enumerate() {
            match event {
                Event::Answered { question, reply, .. } => {
                    let id = self.handbook().find_question(question);
                    told.extend(id.filter(|id| self.is_dangerous(*id, reply)).map(|id| (at, id)));
                }
                Event::Corrected { answer, reply, .. } => {
                    let Some(id) = self.asked_at(*answer) else { continue };
                    let was = told.iter().position(|(order, _)| order == answer);
                    match (was, self.is_dangerous(id, reply)) {
                        (None, true) => told.push((*answer, id)),
                        (Some(was), false) => taken_back.push((told.remove(was).1, None)),
                        _ => {}
                    }
                }
                Event::TakenBack { order } => {
                    let was = told.iter().position(|(told, _)| told == order);
                    taken_back.extend(was.map(|was| (told.remove(was).1, None)));
                }
                Event::Minded { question, by } => {
                    let id = self.handbook().find_question(question);
                    let of_it = taken_back.iter_mut().filter(|(of, _)| Some(*of) == id);
                    of_it.for_each(|(_, minded)| *minded = Some(by.clone()));
                }
                _ => {}
            }
        }
        let is_last = |(place, (id, _)): &(usize, &(QuestionId, Option<String>))| {
            !taken_back[place + 1..].iter().any(|(later, _)| later == id)
        };
        let kept = taken_back.iter().enumerate().filter(is_last).map(|(_, kept)| kept);
        kept.filter_map(|(id, by)| self.kept_of_danger(*id, by.clone())).collect()
    }

    /// The question of a danger that was taken back, while nobody has acknowledged since what its stop
    /// asks for.
    #[must_use]
    pub fn danger_to_mind(&self) -> Option<QuestionId> {
        let mut open = self.dangers_taken_back().into_iter();
        open.find(|danger| danger.minded_by.is_none()).map(|danger| danger.question)
    }

    fn kept_of_danger(&self, id: QuestionId, minded_by: Option<String>) -> Option<DangerTakenBack> {
        let now = self.latest_answer(id);
        if now.is_some_and(|given| self.is_dangerous(id, &given.reply)) {
            return None;
        }
        Some(DangerTakenBack {
            question: id,
            told: self.called(id, self.dangerous_choice(id)?),
            now: now.map(|given| self.called(id, &given.typed)),
            minded_by,
        })
    }

    /// An answer as people read it.
    fn called(&self, id: QuestionId, answer: &str) -> String {
        let options = self.question_view(id).options;
        let label = options.into_iter().find(|(choice, label)| choice == answer || label == answer);
        label.map_or_else(|| answer.to_owned(), |(_, label)| label)
    }

    fn is_dangerous(&self, id: QuestionId, reply: &Reply) -> bool {
        let danger = self.dangerous_choice(id);
        match reply {
            Reply::YesNo(yes) => danger == Some(if *yes { "yes" } else { "no" }),
            Reply::Choice(choice) => danger == Some(choice),
            _ => false,
        }
    }

    fn asked_at(&self, order: usize) -> Option<QuestionId> {
        match self.events().get(order)? {
            Event::Answered { question, .. } => self.handbook().find_question(question),
            _ => None,
        }
    }

    /// When the work may go on after a danger that was taken back: as its stop says, if it does.
    #[must_use]
    pub fn after_danger(&self, id: QuestionId) -> String {
        let stop = self.whole_stop_of_danger(id);
        let why = stop.and_then(|stop| stop.why).map(|why| why.to_text());
        why.and_then(|why| condition(&why))
            .unwrap_or_else(|| "Go on only where there is none of that danger.".to_owned())
    }
}

/// `Go on only once the place is aired ...`, where the reason of a stop says so.
fn condition(why: &str) -> Option<String> {
    let all: Vec<&str> = why.split_inclusive(". ").map(str::trim).collect();
    let place = all.iter().position(|sentence| sentence.starts_with("Once "))?;
    let when = all[place].split(", go on").next()?.trim_start_matches("Once ");
    let go_on = format!("Go on only once {}.", when.trim_end_matches('.'));
    // What "that" is, the sentence before says.
    Some(match all[..place].last().filter(|_| when.starts_with("that ")) {
        Some(before) => format!("{before} {go_on}"),
        None => go_on,
    })
}

#[cfg(test)]
mod tests {
    use super::condition;

    #[test]
    fn a_stop_says_when_the_work_goes_on() {
        let aired = "Gas burns. Once the place is aired, go on here with that answer put right.";
        assert_eq!(condition(aired).as_deref(), Some("Go on only once the place is aired."));
        let read = "It blows. It has to be read first. Once that is done, go on here. Plan it.";
        let wanted = "It has to be read first. Go on only once that is done.";
        assert_eq!(condition(read).as_deref(), Some(wanted));
        assert_eq!(condition("A pump that grinds will seize."), None);
    }
}
