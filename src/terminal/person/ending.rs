//! The end of a tree, and a step at which the work must stop.

use super::answering::Person;
use super::asking::choice;
use super::picking::ended;
use crate::case::{Case, Closing, FixedBy, Given, Passage, Response, TreeId};
use crate::report::{assumed, ranking_line};
use crate::terminal::console::Reply;
use crate::terminal::prompt::{Menu, MenuOption};
use crate::terminal::words::Action;
use crate::text::{Line, Role, also_said};

/// The most trees that are offered at an end (limit of ours: a list to take in at a glance).
const MOST_OFFERED: usize = 4;

/// What is said to *not sure* where a stop is looked at again.
const STAYS_STOPPED: &str = "Not sure counts as the dangerous answer, so it stays stopped.";

impl Person<'_> {
    /// Says what has been done, and offers what may follow.
    pub(super) fn ended(
        &mut self,
        case: &Case<'_>,
        done: Line,
        then: Vec<TreeId>,
    ) -> Option<Response> {
        let then = match then.is_empty() && case.work_closed().is_none() {
            true => offered(case),
            false => then,
        };
        let mut options: Vec<MenuOption> =
            vec![MenuOption::new("Finish and see the verdict").with_id("verdict")];
        options.extend(then.iter().map(|&tree| {
            let (id, title) = case.tree_view(tree);
            MenuOption::new(title).with_id(id)
        }));
        let mut title = vec![Line::new()];
        title.extend(self.cautions_here(case));
        title.push(done.clone());
        title.extend(assumed(case, &done));
        let ranking = ranking_line(case);
        if ranking.to_text() != self.ranking_shown {
            self.ranking_shown = ranking.to_text();
            title.push(ranking);
        }
        title.push(Line::strong("What next?"));
        let actions = vec![
            Action::Back,
            Action::Note,
            Action::File,
            Action::Another,
            Action::TakeBack,
            Action::Ranking,
            Action::Board,
            Action::Explain,
            Action::Leave,
            Action::Stop,
        ];
        match self.console.choose(&Menu { title, options, actions, ..Menu::default() }) {
            Reply::Chosen(place) => {
                let tree = place.checked_sub(1).and_then(|place| then.get(place));
                Some(tree.map_or(Response::Done, |&tree| Response::GoOn(tree)))
            }
            other => self.other(case, &other, None),
        }
    }

    /// Says that the work must stop, and why; an answer that led here by mistake can be mended.
    pub(super) fn stopped(
        &mut self,
        case: &Case<'_>,
        text: &Line,
        why: Option<&Line>,
        refer: &Line,
    ) -> Option<Response> {
        // The end was chosen here: what is left is to leave.
        if Closing::of(case.events()).is_some() {
            return Some(Response::Leave);
        }
        let told = [
            Some(Line::warning(format!("Stop. {}", text.to_text()))),
            why.cloned(),
            Some(Line::strong(format!("Ask {}.", refer.to_text()))),
        ];
        let mut title = vec![Line::new()];
        title.extend(told.into_iter().flatten().map(|line| self.audience.told(line)));
        if std::mem::take(&mut self.asks_stop_again)
            && let Some(given) = case.answer_behind_stop()
        {
            return self.asked_again(case, given, title);
        }
        let behind = case.answer_behind_stop();
        let all_behind = case.answers_behind_stop();
        title.extend(behind.map(|given| only_anew(case, given)));
        title.extend(all_behind.get(1).map(|given| or_before(case, given)));
        let no = also_said(false).iter().chain(&["no"]).map(|no| (*no).to_owned()).collect();
        let options = vec![
            MenuOption::new("Stop here; the case is kept"),
            MenuOption::new("The answer that led here was wrong, or is no longer so: go back")
                .with_words(no),
            MenuOption::new("End the case: it is handed over"),
        ];
        let actions =
            vec![Action::Back, Action::Note, Action::File, Action::TakeBack, Action::Stop];
        // Enter alone is the safe way; to go back is said.
        let preset = Some(0);
        match self.console.choose(&Menu { title, options, actions, preset, ..Menu::default() }) {
            Reply::Chosen(0) => Some(Response::Leave),
            Reply::Chosen(1) if all_behind.len() > 1 => self.which_was_wrong(case, &all_behind),
            Reply::Chosen(1) if let Some(given) = behind => {
                self.asked_again(case, given, Vec::new())
            }
            Reply::Chosen(1) => self.answer_back(case),
            Reply::Chosen(_) => Some(Response::Close(Closing {
                note: Some(format!("Stopped for safety. To be asked: {}.", refer.to_text())),
                ..Closing::by(FixedBy::Unknown)
            })),
            Reply::Act(Action::Back) => self.answer_back(case),
            other => self.other(case, &other, None),
        }
    }

    /// Goes back to the answer that a stop comes from. One that was given out of turn or long ago no
    /// step may ask for again, so it is asked for here, and the case doesn't go on without it.
    fn answer_back(&mut self, case: &Case<'_>) -> Option<Response> {
        let last = case.given_last();
        let asks_again = |given: &&Given| {
            let own = Passage::Event(given.order);
            Some(given.order) == last && case.path().iter().any(|passed| passed.passage == own)
        };
        match case.answer_behind_stop().filter(|given| !asks_again(given)) {
            Some(given) => self.asked_again(case, given, Vec::new()),
            None => Some(Response::Back),
        }
    }

    /// Lets the answer be chosen that was wrong: the one that stops the work, or the one before from
    /// which its question came.
    fn which_was_wrong(&mut self, case: &Case<'_>, all: &[&Given]) -> Option<Response> {
        let option = |given: &&Given| {
            let ask = case.ask(given.question).to_text();
            MenuOption::new(format!("{ask} [{}]", called(case, given)))
        };
        let title = vec![Line::new(), Line::strong("Which answer was wrong, or is no longer so?")];
        let options = all.iter().map(option).collect();
        let actions = vec![Action::Back, Action::Stop];
        match self.console.choose(&Menu { title, options, actions, ..Menu::default() }) {
            Reply::Chosen(place) => self.asked_again(case, all.get(place)?, Vec::new()),
            other => ended(&other),
        }
    }

    /// Puts the question of an answer again; another answer takes its place.
    fn asked_again(
        &mut self,
        case: &Case<'_>,
        given: &Given,
        mut title: Vec<Line>,
    ) -> Option<Response> {
        let (id, order) = (given.question, given.order);
        title.push(Line::new());
        title.push(Line::plain(format!("This was answered: {}. How is it now?", given.typed)));
        title.push(self.wording(case, id));
        title.extend(self.listening(case, id));
        let actions = vec![Action::NotSure, Action::Why, Action::Back, Action::Stop];
        match self.put_question(case, id, title, actions, false) {
            Reply::Typed(text) => Some(Response::Correct(id, order, text)),
            Reply::Chosen(place) => Some(Response::Correct(id, order, choice(case, id, place))),
            // What was told beside the way stops the work only as long as it stands.
            Reply::Act(Action::NotSure) => {
                self.console.show(&[Line::plain(STAYS_STOPPED)]);
                None
            }
            Reply::Act(Action::Why) => self.other(case, &Reply::Act(Action::Why), Some(id)),
            other => ended(&other),
        }
    }
}

/// That a stopped case goes on only by another answer to the question that stopped it.
fn only_anew(case: &Case<'_>, given: &Given) -> Line {
    Line::plain("The case goes on only by answering this anew, which going back asks: ")
        .join(case.ask(given.question))
        .push(Role::Quiet, format!(" [{}]", given.typed))
}

/// The answer before from which that question came, which may be the wrong one.
fn or_before(case: &Case<'_>, given: &Given) -> Line {
    Line::plain("Or, where that came from a wrong answer before it: ")
        .join(case.ask(given.question))
        .push(Role::Quiet, format!(" [{}]", called(case, given)))
}

/// An answer as people read it.
fn called(case: &Case<'_>, given: &Given) -> String {
    let options = case.question_view(given.question).options;
    let label = options.into_iter().find(|(choice, _)| *choice == given.typed);
    label.map_or_else(|| given.typed.clone(), |(_, label)| label)
}

/// What may follow where the end says nothing of it: where nothing is left that leads, the proof
/// first, then trees that ask for what the best next checks need. None that was gone through.
fn offered(case: &Case<'_>) -> Vec<TreeId> {
    let checks = case.checks_left();
    let wanted = checks.iter().take(3).flat_map(|check| &check.questions);
    let asking = wanted.flat_map(|question| case.trees_asking(*question));
    let proofs = case.trees_that_prove().filter(|_| case.assessment().nothing_leads());
    let mut trees = Vec::new();
    for tree in proofs.chain(asking) {
        let is_done = case.path().iter().any(|passed| passed.place.tree == tree);
        if !is_done && !trees.contains(&tree) && trees.len() < MOST_OFFERED {
            trees.push(tree);
        }
    }
    trees
}
