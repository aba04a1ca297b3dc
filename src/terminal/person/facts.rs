//! Several things told in one line: each is offered to its question in turn, and what belongs to none
//! is kept as a note.

use super::answer_told::readings_told;
use super::answering::Person;
use super::by_kind::by_value;
use super::choosing::{choice_named, is_left_open};
use super::danger::{danger_told, dangers_first};
use super::elsewhere::{Asked, Before, Offered};
use super::matching::likely;
use super::measured::Measured;
use crate::case::{Case, Now, QuestionId, Response};
use crate::terminal::prompt::MenuOption;
use crate::terminal::words::is_bare_figure;
use crate::text::{Line, Role, also_said};

/// What parts a line into what it tells.
const BETWEEN: [&str; 6] = [", ", "; ", ". ", " and ", " but ", "\n"];

/// The most that a line tells (limit of ours: what nobody would type in one).
const MOST_FACTS: usize = 12;

/// What a line tells, part by part.
pub(super) fn parts(typed: &str) -> Vec<String> {
    let mut parts = vec![typed.to_owned()];
    for between in BETWEEN {
        parts = parts.iter().flat_map(|part| part.split(between)).map(str::to_owned).collect();
    }
    let trimmed = parts.iter().map(|part| part.trim().trim_end_matches(['.', ',', ';']).to_owned());
    trimmed.filter(|part| !part.is_empty()).collect()
}

/// The parts of a line that tells of several questions; none where it tells of one or of none.
pub(super) fn several(
    case: &Case<'_>,
    asked: Option<QuestionId>,
    typed: &str,
) -> Option<Vec<String>> {
    let parts = parts(typed);
    if !(2..=MOST_FACTS).contains(&parts.len()) || is_a_list(case, typed) {
        return None;
    }
    let first = |part: &String| likely(case, asked, part).first().map(|found| found.id);
    let placed = |part: &String| if is_bare_figure(part) { None } else { first(part) };
    let mut found: Vec<QuestionId> = parts.iter().filter_map(placed).collect();
    found.sort_unstable();
    found.dedup();
    let are_figures = || {
        let alone = |part: &String| Measured::of(case, part).alone();
        let figures: Option<Vec<String>> = parts.iter().map(alone).collect();
        let has_a_place = |figure: &String| !by_value(case, asked, figure).is_empty();
        figures.is_some_and(|figures| figures.iter().any(has_a_place))
    };
    let is_several = match found.len() {
        0 => is_at_a_list(case, asked) && are_figures(),
        // Of two figures for one question the second would be lost.
        1 => likely(case, asked, typed).is_empty() || has_two_figures(case, &parts, typed),
        _ => true,
    };
    is_several.then(|| dangers_first(case, parts))
}

/// Whether a list is asked about, of which no figure is an answer.
fn is_at_a_list(case: &Case<'_>, asked: Option<QuestionId>) -> bool {
    asked.is_some_and(|id| !case.question_view(id).options.is_empty())
}

/// Whether two parts of a line hold a figure each, and the whole of it is no one figure.
fn has_two_figures(case: &Case<'_>, parts: &[String], typed: &str) -> bool {
    let has_one = |part: &&String| Measured::of(case, part).text().is_some();
    parts.iter().filter(has_one).count() > 1 && Measured::of(case, typed).text().is_none()
}

/// The question that the case asks now, if it asks one.
fn asked_now(case: &Case<'_>) -> Option<QuestionId> {
    match case.now() {
        Now::Ask { question, .. } => Some(*question),
        _ => None,
    }
}

/// Whether a line is a list of readings, which is one answer.
fn is_a_list(case: &Case<'_>, typed: &str) -> bool {
    case.question_ids()
        .any(|id| case.question_view(id).takes_readings && readings_told(case, id, typed).is_some())
}

impl Person<'_> {
    /// Deals with what is left of a line that told several things; none where nothing is, or the
    /// question has to be put again.
    pub(super) fn next_fact(&mut self, case: &Case<'_>) -> Option<Response> {
        // A danger came up: nothing else is asked, and nothing that was told is lost.
        if matches!(case.now(), Now::Stopped { .. }) {
            return self.left_at_a_stop(case);
        }
        if let Some(value) = self.left_over.take() {
            let found = by_value(case, asked_now(case), &value);
            if !found.is_empty() {
                let told = Line::plain(format!("You told this too: \"{value}\"."));
                return match self.offer(case, (told, &value), &found, Before::Nothing) {
                    Offered::Met(response) => response,
                    Offered::Left => {
                        self.unplaced.push(value);
                        None
                    }
                };
            }
            return Some(self.told_early(value));
        }
        if let Some(fact) = self.facts.pop_front() {
            let asked = asked_now(case);
            if let Some(danger) = danger_told(case, asked, &fact) {
                return self.danger(case, &fact, danger);
            }
            if let Some(worked) = self.told_work(case, &fact, Before::Nothing) {
                return worked;
            }
            let mut found = likely(case, asked, &fact);
            let value = Measured::of(case, &fact).alone();
            if let Some(value) = value.filter(|_| found.is_empty()) {
                found = by_value(case, asked, &value);
                if found.is_empty() {
                    return Some(self.told_early(value));
                }
            }
            if found.is_empty() {
                self.unplaced.push(fact);
                return None;
            }
            let told = Line::plain(format!("You told this too: \"{fact}\"."));
            return match self.offer(case, (told, &fact), &found, Before::Nothing) {
                Offered::Met(response) => response,
                Offered::Left => {
                    self.unplaced.push(fact);
                    None
                }
            };
        }
        let left = std::mem::take(&mut self.unplaced).join("; ");
        self.nothing_found(case, &left, Before::Nothing)
    }

    /// What is left of a line at a stop, of which nothing is asked any more: a name on the list of one
    /// question, such as the refrigerant's, is taken as its answer, the rest as a note.
    fn left_at_a_stop(&mut self, case: &Case<'_>) -> Option<Response> {
        let named = self.facts.iter().enumerate().find_map(|(place, fact)| {
            let (id, choice) = named_outright(case, fact)?;
            Some((place, id, choice))
        });
        if let Some((place, id, choice)) = named {
            self.facts.remove(place);
            let view = case.question_view(id);
            let label = view.options.into_iter().find(|(known, _)| *known == choice);
            let told = Line::plain("Taken as told: ").join(view.ask);
            self.console.show(&[told.push(Role::Value, format!(" [{}]", label?.1))]);
            return Some(Response::Volunteer(id, choice));
        }
        let left: Vec<String> = self
            .unplaced
            .drain(..)
            .chain(self.facts.drain(..))
            .chain(self.left_over.take())
            .collect();
        (!left.is_empty()).then(|| self.kept(&left.join("; ")))
    }

    /// Whether something of a line is left to be dealt with.
    pub(super) fn has_facts(&self) -> bool {
        !self.facts.is_empty() || !self.unplaced.is_empty() || self.left_over.is_some()
    }

    /// Asks whether what was not understood is kept as a note.
    pub(super) fn ask_to_keep(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        told: Line,
        before: Before,
    ) -> Offered {
        let words = |is_yes: bool, word: &str| {
            let also = also_said(is_yes).iter().map(|word| (*word).to_owned());
            also.chain([word.to_owned()]).collect()
        };
        let options = [
            MenuOption::new("Yes, keep it").with_words(words(true, "ok")),
            MenuOption::new("No").with_words(words(false, "none")),
        ];
        let title = vec![Line::new(), told, Line::strong("Keep it as a note?")];
        match self.ask_beside(case, (title, None), &options, before) {
            Asked::Chosen(0) => Offered::Met(Some(self.kept(typed))),
            Asked::Chosen(_) => Offered::Left,
            // At the end of the input nobody can say no any more.
            Asked::Met(Some(Response::EndOfInput)) => Offered::Met(Some(self.kept(typed))),
            // What was asked before was answered; what was told is lost by that no more than else.
            Asked::Met(None) => {
                self.remark = Some(typed.to_owned());
                self.console.show(&[is_kept(typed)]);
                Offered::Met(None)
            }
            Asked::Met(response) => Offered::Met(response),
        }
    }

    /// Keeps what was typed as a note, and says so.
    pub(super) fn kept(&mut self, typed: &str) -> Response {
        self.console.show(&[is_kept(typed)]);
        Response::Note(typed.to_owned())
    }
}

/// The question without an answer to which a part of a line names one outright, with its figures,
/// as `R-290` does; none that a safety rule judges.
fn named_outright(case: &Case<'_>, fact: &str) -> Option<(QuestionId, String)> {
    if !fact.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let is_open = |id: &QuestionId| {
        case.latest_answer(*id).is_none()
            && case.handbook().question(*id).hazard.is_none()
            && !is_left_open(case, *id, fact)
    };
    let mut named = case.question_ids().filter(is_open).filter_map(|id| {
        let choice = choice_named(&case.question_view(id), fact)?;
        Some((id, choice))
    });
    named.next().filter(|_| named.next().is_none())
}

fn is_kept(typed: &str) -> Line {
    Line::plain(format!("\"{typed}\" is kept as a note."))
}

#[cfg(test)]
mod tests {
    use super::parts;

    #[test]
    fn a_line_is_parted_at_its_stops_and_not_within_a_number() {
        assert_eq!(
            parts("pump alone 900 micron, oil milky."),
            ["pump alone 900 micron", "oil milky"]
        );
        assert_eq!(parts("1,5 m and R-410A"), ["1,5 m", "R-410A"]);
        assert_eq!(parts("one thing"), ["one thing"]);
        assert!(parts(" , ").is_empty());
    }
}
