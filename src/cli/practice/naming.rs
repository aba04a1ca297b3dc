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
    let asked = Several {
        first: "What is wrong, or was?",
        other: "Is or was anything else wrong?",
        none: "Nothing is or was wrong",
    };
    let Some(causes) = asked.ask(dialogue, causes.collect::<Vec<(CauseId, _)>>())? else {
        return Ok(None);
    };
    if causes.is_empty() {
        return Ok(Some(Named::default()));
    }
    let asked = Several {
        first: "What mends it?",
        other: "What else is to be done?",
        none: "Nothing can be done here",
    };
    let actions = asked.ask(dialogue, remedies(handbook))?;
    Ok(actions.map(|actions| Named { causes, actions }))
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

/// A question that several answers may be given to, one after the other.
struct Several {
    first: &'static str,
    other: &'static str,
    none: &'static str,
}

impl Several {
    fn ask<T: Copy>(
        &self,
        dialogue: &mut Dialogue<'_>,
        mut open: Vec<(T, MenuOption)>,
    ) -> Result<Option<Vec<T>>, Ended> {
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
            let actions = vec![Action::Back];
            let menu = Menu { title, options, actions, asks_which: true, ..Menu::default() };
            match dialogue.console.choose(&menu) {
                Reply::Chosen(place) => {
                    let place = if is_first { place.checked_sub(1) } else { Some(place) };
                    match place.filter(|place| *place < open.len()) {
                        Some(place) => chosen.push(open.remove(place).0),
                        None => return Ok(Some(chosen)),
                    }
                }
                Reply::EndOfInput => return Err(Ended::Left),
                Reply::Interrupted => return Err(Ended::Interrupted),
                _ => return Ok(None),
            }
        }
    }
}
