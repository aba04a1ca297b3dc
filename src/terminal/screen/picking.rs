//! Asking until there is a reply: with a list, and with a field.

use super::console::ScreenConsole;
use super::listing::{Listing, Meaning};
use super::widgets::{Entry, Field, Left, PickList, Picked, is_not_what_was_typed};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::MenuOption;
use crate::terminal::understanding::{
    Understood, action_typed, listed, read_as, understand_option,
};
use crate::terminal::words::{Action, is_remark, offered};
use crate::text::{Line, list_or};

/// What is said to Enter alone at a question of fact.
const HOW_TO_CHOOSE: &str = "Nothing is chosen yet. Walk to an answer, or type its number.";

impl ScreenConsole<'_> {
    /// Lets an entry of a list be picked, or an action; asks again until there is a reply.
    pub(super) fn pick_listed(
        &mut self,
        message: String,
        listing: Listing,
        options: &[MenuOption],
        actions: &[Action],
    ) -> Reply {
        let Listing { mut entries, meanings, refusal, hands_back, asks_which, preset } = listing;
        self.fit(&mut entries);
        let is_left_by_esc = offered(actions).is_empty();
        let mut list = PickList {
            message,
            entries,
            asks_which,
            preset,
            is_left_by_esc,
            ..PickList::default()
        };
        for _ in 0..ROUNDS {
            let mut entered = String::new();
            let meaning = match self.widgets.pick(&list) {
                Left::Answered(picked) => {
                    let doubt = which(&picked.filter, &list.in_doubt(&picked));
                    if let Some(doubt) = doubt {
                        self.say(&doubt);
                        list.asked.clone_from(&picked.filter);
                        list.filter = picked.filter;
                        continue;
                    }
                    list.filter.clear();
                    entered.clone_from(&picked.filter);
                    let heard = self.heard(&list, &meanings, &picked, options, actions);
                    let is_handed_back = hands_back && !entered.trim().is_empty();
                    heard.unwrap_or_else(|unheard| match is_handed_back {
                        true => Some(Meaning::Elsewhere),
                        false => self.unheard(unheard, &entered, refusal.as_ref(), actions),
                    })
                }
                // Where nothing else can be done, Esc leaves the list.
                Left::Escaped(_) if list.is_left_by_esc => {
                    return Reply::Act(Action::Back);
                }
                Left::Escaped(typed) => {
                    list.filter = typed;
                    Some(Meaning::Act(Action::More))
                }
                Left::Interrupted => return Reply::Interrupted,
                Left::Ended | Left::Broken => return Reply::EndOfInput,
            };
            let reply = match meaning {
                Some(Meaning::Option(place)) => {
                    let has_words = entered.contains(char::is_alphabetic);
                    self.chosen_by = has_words.then(|| entered.trim().to_owned());
                    Some(Reply::Chosen(place))
                }
                Some(Meaning::Act(action)) => self.act(action, actions),
                Some(Meaning::Elsewhere) => Some(Reply::Elsewhere(entered.trim().to_owned())),
                Some(Meaning::Nothing) => {
                    self.say(&Line::plain(HOW_TO_CHOOSE));
                    None
                }
                None => None,
            };
            match reply {
                // A number from the menu of words was meant for this list.
                Some(Reply::Typed(number)) => list.filter = number,
                Some(reply) => return reply,
                None => {}
            }
        }
        Reply::EndOfInput
    }

    /// What was picked stands for; where only a lasting entry was left because nothing in the
    /// list answers to what was typed, what that means, if anything.
    fn heard(
        &mut self,
        list: &PickList,
        meanings: &[Meaning],
        picked: &Picked,
        options: &[MenuOption],
        actions: &[Action],
    ) -> Result<Option<Meaning>, Understood> {
        let Some(entry) = list.entries.get(picked.place) else { return Ok(None) };
        if !is_not_what_was_typed(&picked.filter, entry, picked.place) {
            return Ok(meanings.get(picked.place).copied());
        }
        match understand_option(&picked.filter, options, actions) {
            Understood::Option(place) => Ok(Some(Meaning::Option(place))),
            Understood::Act(action) => {
                read_as(action, &picked.filter).iter().for_each(|line| self.say(line));
                Ok(Some(Meaning::Act(action)))
            }
            unheard => Err(unheard),
        }
    }

    /// Words that answer to nothing are refused, or handed on where they may belong to another
    /// question. Where something is only to be done, few words are a shake of the head.
    fn unheard(
        &mut self,
        unheard: Understood,
        typed: &str,
        refusal: Option<&Line>,
        actions: &[Action],
    ) -> Option<Meaning> {
        let may_be_handed_on =
            actions.contains(&Action::Another) && (refusal.is_none() || is_remark(typed));
        match unheard {
            Understood::Elsewhere(_) if may_be_handed_on => return Some(Meaning::Elsewhere),
            Understood::Unclear(line) | Understood::Elsewhere(line) => {
                self.say(refusal.unwrap_or(&line));
            }
            Understood::Option(_) | Understood::Act(_) => {}
        }
        None
    }

    /// Lets a text be typed that is not refused; asks again, in an empty field or with the list that
    /// was typed, until there is a reply.
    pub(super) fn type_text(
        &mut self,
        message: String,
        help: &str,
        actions: &[Action],
        refuse: &dyn Fn(&str) -> Option<String>,
    ) -> Reply {
        let help = self.help_that_fits(help);
        let mut field = Field { message, help, text: String::new() };
        for _ in 0..ROUNDS {
            let action = match self.widgets.type_text(&field) {
                Left::Answered(typed) => match action_typed(&typed, actions) {
                    Some(action) => {
                        read_as(action, &typed).iter().for_each(|line| self.say(line));
                        field.text.clear();
                        action
                    }
                    None => match refuse(&typed) {
                        None => return Reply::Typed(typed),
                        Some(why) => {
                            // A list is put right where it is wrong, and not typed anew.
                            let is_list = typed.matches(',').count() > 1;
                            field.text = if is_list { typed } else { String::new() };
                            self.say(&Line::plain(why));
                            continue;
                        }
                    },
                },
                Left::Escaped(typed) => {
                    field.text = typed;
                    Action::More
                }
                Left::Interrupted => return Reply::Interrupted,
                Left::Ended | Left::Broken => return Reply::EndOfInput,
            };
            match self.act(action, actions) {
                // A number from the menu of words was meant for this field.
                Some(Reply::Typed(number)) => field.text = number,
                Some(reply) => return reply,
                None => {}
            }
        }
        Reply::EndOfInput
    }
}

/// Asks which of several was meant by what was typed; the list stays with these alone.
fn which(typed: &str, fitting: &[&Entry]) -> Option<Line> {
    let labels: Vec<String> = fitting.iter().map(|entry| format!("\"{}\"", entry.label)).collect();
    (!labels.is_empty()).then(|| {
        Line::plain(format!(
            "\"{}\" fits several: {}. Which? Walk to it, or type more of it.",
            typed.trim(),
            list_or(&labels)
        ))
    })
}

/// What stands below a field: what to type, and the words that stand for something else.
pub(super) fn field_help(hint: &str, actions: &[Action]) -> String {
    let is_offered = listed(actions).contains(&Action::NotSure);
    let or_not = if is_offered { ", or not sure" } else { "" };
    format!("{hint}{or_not}; Esc for more")
}
