//! Naming what is wrong, and what mends it.

use super::dialogue::{Dialogue, Ended};
use crate::handbook::{ActionId, CauseId, Handbook};
use crate::rehearsal::practice::{Exercise, Named};
use crate::terminal::{Action, Menu, MenuOption, Reply};
use crate::text::{Line, capital, spoken};

/// Asks what is wrong and what mends it; nothing where whoever practises goes back to the rig.
pub(super) fn name(
    dialogue: &mut Dialogue<'_>,
    exercise: &Exercise<'_>,
) -> Result<Option<Named>, Ended> {
    let handbook = &exercise.ground().handbook;
    let causes = handbook.cause_ids().map(|id| {
        let cause = handbook.cause(id);
        (id, MenuOption::new(capital(&cause.in_short)).with_id(&*cause.id))
    });
    let asked = AskedFor {
        first: "What is wrong, or was?",
        other: "Is or was anything else wrong?",
        none: "Nothing is or was wrong",
    };
    let causes = match asked.ask(dialogue, causes.collect::<Vec<(CauseId, _)>>())? {
        Several::Chosen(causes) => causes,
        Several::NotKnown => return Ok(Some(Named::given_up())),
        Several::Back => return Ok(None),
    };
    if causes.is_empty() {
        return Ok(Some(Named::default()));
    }
    let asked = AskedFor {
        first: "What mends it?",
        other: "What else is to be done?",
        none: "Nothing can be done here",
    };
    Ok(match asked.ask(dialogue, remedies(handbook))? {
        Several::Chosen(actions) => Some(Named { causes, actions, is_given_up: false }),
        // Who knows what is wrong and not what mends it has named the first all the same.
        Several::NotKnown => Some(Named { causes, ..Named::default() }),
        Several::Back => None,
    })
}

/// Everything that mends a cause, in the order of the handbook.
fn remedies(handbook: &Handbook) -> Vec<(ActionId, MenuOption)> {
    let mends = |id: &ActionId| handbook.causes().iter().any(|cause| cause.fix.contains(id));
    let option = |id: ActionId| {
        let action = handbook.action(id);
        let minutes = action.takes.map(|takes| format!("about {:.0} min", takes / 60.0));
        // A name alone may be read in two ways.
        let done = action.once_done.clone();
        let hint: Vec<String> = minutes.into_iter().chain(done).collect();
        let label = capital(&spoken(&action.id));
        (id, MenuOption::new(label).with_id(&*action.id).with_hint(hint.join(": ")))
    };
    handbook.action_ids().filter(mends).map(option).collect()
}

/// What several answers came to.
enum Several<T> {
    /// All that were chosen.
    Chosen(Vec<T>),
    /// They can't say.
    NotKnown,
    /// They go back to the rig.
    Back,
}

/// A question that several answers may be given to, one after the other.
struct AskedFor {
    first: &'static str,
    other: &'static str,
    none: &'static str,
}

impl AskedFor {
    fn ask<T: Copy>(
        &self,
        dialogue: &mut Dialogue<'_>,
        mut open: Vec<(T, MenuOption)>,
    ) -> Result<Several<T>, Ended> {
        let mut chosen = Vec::new();
        loop {
            let (ask, end) = match chosen.is_empty() {
                true => (self.first, MenuOption::new(self.none).with_id("nothing")),
                false => (self.other, MenuOption::new("That is all").with_id("done")),
            };
            let mut options: Vec<MenuOption> =
                open.iter().map(|(_, option)| option.clone()).collect();
            // The way on comes first once something was chosen, else last.
            let is_first = !chosen.is_empty();
            if is_first {
                options.insert(0, end)
            } else {
                options.push(end)
            }
            let title = vec![Line::new(), Line::strong(ask)];
            // Once something was chosen, that is all is what there is to say.
            let actions = match is_first {
                true => vec![Action::Back],
                false => vec![Action::NotSure, Action::Back, Action::GiveUp],
            };
            let menu = Menu { title, options, actions, asks_which: true, ..Menu::default() };
            match dialogue.console.choose(&menu) {
                Reply::Chosen(place) => {
                    let place = if is_first { place.checked_sub(1) } else { Some(place) };
                    match place.filter(|place| *place < open.len()) {
                        Some(place) => chosen.push(open.remove(place).0),
                        None => return Ok(Several::Chosen(chosen)),
                    }
                }
                Reply::EndOfInput => return Err(Ended::Left),
                Reply::Interrupted => return Err(Ended::Interrupted),
                Reply::Act(Action::NotSure | Action::GiveUp) => return Ok(Several::NotKnown),
                _ => return Ok(Several::Back),
            }
        }
    }
}
