//! What was meant by what was typed at a menu.

use super::prompt::MenuOption;
use super::words::{Action, folded, may_be_elsewhere, offered};
use crate::diagnostic::near_name;
use crate::text::{Line, Role, as_said, is_called, list_or, says_not_sure};

/// What a typed answer means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Understood {
    /// The option of this place (from 0).
    Option(usize),
    /// One of the actions offered, or of the console's own.
    Act(Action),
    /// Nothing that can be used; the line says why.
    Unclear(Line),
    /// Words that are near to no answer and may belong to another question; the line says so.
    Elsewhere(Line),
}

/// The actions that stand in the list itself, after the options: *not sure* if it is offered, and
/// *more* if several others are; a single other one, and *back* with *stop* alone, need no menu of
/// their own.
pub(super) fn listed(actions: &[Action]) -> Vec<Action> {
    let offered = offered(actions);
    let mut listed = Vec::new();
    if offered.contains(&Action::NotSure) {
        listed.push(Action::NotSure);
    }
    let others: Vec<Action> =
        offered.into_iter().filter(|&action| action != Action::NotSure).collect();
    match others[..] {
        [] => {}
        [only] => listed.push(only),
        [Action::Back, Action::Stop] => listed.extend(others),
        _ => listed.push(Action::More),
    }
    listed
}

/// The action typed in full, if the console knows what to do with it here.
pub(super) fn action_typed(typed: &str, actions: &[Action]) -> Option<Action> {
    let action = Action::from_word(typed)?;
    let offered = offered(actions);
    let is_known = match action {
        Action::Help => true,
        Action::More => !offered.is_empty(),
        _ => offered.contains(&action),
    };
    is_known.then_some(action)
}

/// How words for *not sure* were read, where they are not those of the list.
pub(super) fn read_as(action: Action, typed: &str) -> Option<Line> {
    let is_told = action == Action::NotSure && says_not_sure(typed);
    let is_other = is_told && folded(typed) != action.word();
    let read = || Line::plain("Read as ").push(Role::Value, action.word()).push(Role::Plain, ".");
    is_other.then(read)
}

/// A word of the table that is not offered here, said so.
pub(super) fn not_offered(typed: &str) -> Option<Line> {
    Action::from_word(typed).map(|action| {
        Line::new().push(Role::Name, action.word()).push(Role::Plain, " is not offered here.")
    })
}

/// What is said to a text that is no value: what its check has, unless it is a word of the table. Of
/// *not sure* the check knows more.
pub(super) fn refusal(typed: &str, checked: &Line) -> Line {
    match Action::from_word(typed) {
        None | Some(Action::NotSure) => checked.clone(),
        Some(_) => not_offered(typed).unwrap_or_else(|| checked.clone()),
    }
}

/// What `typed` means at a menu of these options and actions: as [`understand`] has it, or the id
/// of an option where it is neither a label nor a word of an action.
pub(super) fn understand_option(
    typed: &str,
    options: &[MenuOption],
    actions: &[Action],
) -> Understood {
    let labels: Vec<&str> = options.iter().map(|option| option.label.as_str()).collect();
    let is_label = labels.iter().any(|label| folded(label) == folded(typed));
    let named = options.iter().position(|option| option.is_named(typed));
    // A choice such as `unknown` or `leave` is an answer of its own.
    let is_answer = |action: Action| matches!(action, Action::NotSure | Action::Leave);
    let is_word = action_typed(typed, actions).is_some_and(|action| !is_answer(action));
    match named.filter(|_| !is_label && !is_word) {
        Some(place) => Understood::Option(place),
        None => match understand(typed, &labels, actions) {
            Understood::Elsewhere(line) => by_words(typed, options, line),
            understood => understood,
        },
    }
}

/// What was typed is no label, but words that stand for an answer may hold it.
fn by_words(typed: &str, options: &[MenuOption], line: Line) -> Understood {
    let typed = folded(typed);
    let holds = |option: &&MenuOption| {
        let about = folded(&format!("{} {}", option.label, option.words.join(" ")));
        typed.split(' ').all(|word| about.contains(word))
    };
    let found: Vec<&str> =
        options.iter().filter(holds).map(|option| option.label.as_str()).collect();
    if found.is_empty() {
        return Understood::Elsewhere(line);
    }
    let meant = format!(" Did you mean {}?", list_or(&found));
    Understood::Unclear(line.push(Role::Plain, meant))
}

/// What `typed` means at a menu of these labels and actions: a number of the list, a label, a
/// word of an action, or the beginning of exactly one label.
pub(super) fn understand(typed: &str, labels: &[&str], actions: &[Action]) -> Understood {
    let typed = folded(typed);
    let labels: Vec<String> = labels.iter().map(|label| folded(label)).collect();
    if typed.is_empty() {
        return Understood::Unclear(Line::plain("Nothing was typed."));
    }
    let same = labels.iter().position(|label| *label == typed);
    if let Some(understood) = by_number(&typed, same, &labels, &listed(actions)) {
        return understood;
    }
    if let Some(place) = same {
        return Understood::Option(place);
    }
    if let Some(action) = action_typed(&typed, actions) {
        return Understood::Act(action);
    }
    // Who asks has not answered: `R-32?`.
    let is_asked = typed.ends_with('?');
    let is_its_name = |place: &usize| !is_asked && is_called(&labels[*place], &typed);
    let called: Vec<usize> = (0..labels.len()).filter(is_its_name).collect();
    if let [place] = called[..] {
        return Understood::Option(place);
    }
    by_beginning(&typed, &labels, &listed(actions)).unwrap_or_else(|| unknown(&typed, &labels))
}

/// A number of the list, also as `2.` or `2)`. Where a label is itself that number, the bare
/// number could mean two things and is not guessed at.
fn by_number(
    typed: &str,
    same: Option<usize>,
    labels: &[String],
    listed: &[Action],
) -> Option<Understood> {
    let digits = typed.trim_end_matches(['.', ')']);
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let last = labels.len() + listed.len();
    let Some(place) = digits.parse::<usize>().ok().filter(|n| (1..=last).contains(n)) else {
        return match same {
            Some(place) => Some(Understood::Option(place)),
            None => {
                let told = format!("There is no {digits} in the list; its last number is {last}.");
                // Far beyond the list it is a value, and no slip of a finger.
                Some(match digits.len() > last.to_string().len() {
                    true => Understood::Elsewhere(Line::plain(told)),
                    false => Understood::Unclear(Line::plain(told)),
                })
            }
        };
    };
    let is_bare = digits.len() == typed.len();
    if is_bare && same.is_some_and(|same| same + 1 != place) {
        return Some(Understood::Unclear(Line::plain(format!(
            "{digits} is an answer and also the number of another one. Type the number with a \
             full stop after it."
        ))));
    }
    Some(match listed.get((place - 1).wrapping_sub(labels.len())) {
        Some(action) if place > labels.len() => Understood::Act(*action),
        _ => Understood::Option(place - 1),
    })
}

/// The only label that begins so, or else the only listed action that does. Labels go first:
/// `n` is *no* where there is a *no*, also when *not sure* is offered.
fn by_beginning(typed: &str, labels: &[String], listed: &[Action]) -> Option<Understood> {
    let mut begins: Vec<usize> =
        (0..labels.len()).filter(|i| labels[*i].starts_with(typed)).collect();
    // `r410` begins R-410A but for its hyphen.
    let said = as_said(typed);
    if begins.is_empty() && said.len() > 2 && !typed.ends_with('?') {
        begins = (0..labels.len()).filter(|i| as_said(&labels[*i]).starts_with(&said)).collect();
    }
    match begins.as_slice() {
        [] => {}
        [place] => return Some(Understood::Option(*place)),
        several => {
            let names: Vec<&str> = several.iter().map(|i| labels[*i].as_str()).collect();
            let text = format!("\"{typed}\" may mean {}. Type more of it.", list_or(&names));
            return Some(Understood::Unclear(Line::plain(text)));
        }
    }
    // Who says no means neither a note nor that they are not sure.
    if typed == "no" {
        return None;
    }
    let mut actions = listed.iter().filter(|action| action.word().starts_with(typed));
    match (actions.next(), actions.next()) {
        (Some(action), None) => Some(Understood::Act(*action)),
        _ => None,
    }
}

fn unknown(typed: &str, labels: &[String]) -> Understood {
    if let Some(line) = not_offered(typed) {
        return Understood::Unclear(line);
    }
    let mut line = Line::plain(format!("\"{typed}\" is not one of the answers."));
    let near = near_name(typed, labels.iter().map(String::as_str)).map(str::to_owned);
    if let Some(near) = near.or_else(|| near_as_said(typed, labels)) {
        line =
            line.push(Role::Plain, " Did you mean ").push(Role::Name, near).push(Role::Plain, "?");
        return Understood::Unclear(line);
    }
    if may_be_elsewhere(typed) { Understood::Elsewhere(line) } else { Understood::Unclear(line) }
}

/// The label that is near but for blanks and hyphens: `r410` is near `R-410A`.
fn near_as_said(typed: &str, labels: &[String]) -> Option<String> {
    let said: Vec<String> = labels.iter().map(|label| as_said(label)).collect();
    let near = near_name(&as_said(typed), said.iter().map(String::as_str))?;
    let place = said.iter().position(|label| label == near)?;
    labels.get(place).cloned()
}

#[cfg(test)]
mod tests {
    use super::*;

    const OIL: [&str; 3] = ["Clear", "Cloudy", "Milky, with drops"];
    const ASKED: [Action; 3] = [Action::NotSure, Action::Back, Action::Why];

    fn oil(typed: &str) -> Understood {
        understand(typed, &OIL, &ASKED)
    }

    fn why_not(understood: Understood) -> String {
        match understood {
            Understood::Unclear(line) | Understood::Elsewhere(line) => line.to_text(),
            other => panic!("{other:?} was understood"),
        }
    }

    #[test]
    fn numbers_labels_and_beginnings_are_answers() {
        for typed in ["2", " 2. ", "2)", "cloudy", "CLOUDY", "clou"] {
            assert_eq!(oil(typed), Understood::Option(1), "{typed}");
        }
        assert_eq!(oil("milky,  with drops"), Understood::Option(2));
        assert_eq!(oil("m"), Understood::Option(2));
    }

    #[test]
    fn the_list_goes_on_with_not_sure_and_more() {
        assert_eq!(oil("4"), Understood::Act(Action::NotSure));
        assert_eq!(oil("5"), Understood::Act(Action::More));
        assert_eq!(oil("not"), Understood::Act(Action::NotSure));
        for typed in ["unsure", "no idea", "dunno", "IDK", "ns", "don't know", "unknown"] {
            assert_eq!(oil(typed), Understood::Act(Action::NotSure), "{typed}");
        }
        assert_eq!(oil("more"), Understood::Act(Action::More));
        assert_eq!(oil("why"), Understood::Act(Action::Why));
        assert_eq!(oil("?"), Understood::Act(Action::Help));
        assert_eq!(listed(&[Action::NotSure]), [Action::NotSure]);
        assert_eq!(listed(&[Action::Stop]), [Action::Stop]);
        assert_eq!(listed(&[Action::Back, Action::Stop]), [Action::Back, Action::Stop]);
        assert_eq!(listed(&[Action::Back, Action::Note, Action::Stop]), [Action::More]);
        assert_eq!(listed(&[]), []);
    }

    #[test]
    fn a_label_goes_before_an_action_that_begins_alike() {
        assert_eq!(understand("n", &["yes", "no"], &ASKED), Understood::Option(1));
        assert_eq!(understand("no", &["yes", "no"], &ASKED), Understood::Option(1));
        assert_eq!(understand("skip", &["skip", "run"], &[Action::Skip]), Understood::Option(0));
    }

    #[test]
    fn an_id_is_an_answer_unless_it_is_a_label_or_a_word() {
        let options = [
            MenuOption::new("No").with_id("no"),
            MenuOption::new("Yes, but it is aired").with_id("aired"),
            MenuOption::new("At the system").with_id("at_system"),
            MenuOption::new("Back at the pump").with_id("back"),
            MenuOption::new("aired").with_id("other"),
        ];
        let meant = |typed: &str, most: usize| understand_option(typed, &options[..most], &ASKED);
        assert_eq!(meant("Aired", 4), Understood::Option(1));
        assert_eq!(meant("at_system", 4), Understood::Option(2));
        assert_eq!(meant("AT  system", 4), Understood::Option(2));
        assert_eq!(meant("back", 4), Understood::Act(Action::Back));
        assert_eq!(meant("aired", 5), Understood::Option(4), "a label goes before an id");
        assert!(matches!(meant("air", 4), Understood::Unclear(_)));
    }

    #[test]
    fn a_choice_of_nobody_knows_is_no_not_sure() {
        let options =
            [MenuOption::new("Wet").with_id("wet"), MenuOption::new("?").with_id("unknown")];
        assert_eq!(understand_option("unknown", &options, &ASKED), Understood::Option(1));
        let labels = [MenuOption::new("Wet"), MenuOption::new("Unknown")];
        assert_eq!(understand_option("unknown", &labels, &ASKED), Understood::Option(1));
    }

    #[test]
    fn a_name_without_its_hyphen_is_found_by_its_beginning() {
        let labels = ["R-410A", "R-32", "R-404A"];
        for typed in ["r410", "R410", "R 410", "r410a"] {
            assert_eq!(understand(typed, &labels, &[]), Understood::Option(0), "{typed}");
        }
        assert!(why_not(understand("r-32?", &labels, &[])).ends_with("Did you mean r-32?"));
        assert!(why_not(understand("r4", &labels, &[])).ends_with("is not one of the answers."));
        let told = why_not(understand("r40", &["R-404A", "R-407C"], &[]));
        assert_eq!(told, "\"r40\" may mean r-404a or r-407c. Type more of it.");
        assert!(why_not(understand("r411a", &labels, &[])).ends_with("Did you mean r-410a?"));
    }

    #[test]
    fn words_that_stand_for_an_answer_are_found_by_a_part_of_them() {
        let options = [
            MenuOption::new("Go on").with_id("go_on"),
            MenuOption::new("Start again")
                .with_id("leave")
                .with_words(vec!["power cut".to_owned()]),
        ];
        let meant = |typed: &str| understand_option(typed, &options, &[Action::Leave]);
        assert_eq!(meant("power cut"), Understood::Option(1));
        assert_eq!(
            why_not(meant("power")),
            "\"power\" is not one of the answers. Did you mean Start again?"
        );
        assert_eq!(meant("leave"), Understood::Option(1), "a choice may be called so");
        let elsewhere = meant("the pump smells of burning");
        assert!(matches!(elsewhere, Understood::Elsewhere(_)), "{elsewhere:?}");
        assert!(matches!(meant("go in"), Understood::Unclear(_)), "it is near to an answer");
    }

    #[test]
    fn other_words_for_not_sure_are_said_back() {
        let told = |typed: &str| read_as(Action::NotSure, typed).map(|line| line.to_text());
        assert_eq!(told("dunno").as_deref(), Some("Read as not sure."));
        assert_eq!(told("Not sure"), None);
        assert_eq!(told("4"), None);
        assert_eq!(read_as(Action::Help, "?"), None);
    }

    #[test]
    fn what_is_not_clear_is_said() {
        assert_eq!(why_not(oil("cl")), "\"cl\" may mean clear or cloudy. Type more of it.");
        assert_eq!(why_not(oil("9")), "There is no 9 in the list; its last number is 5.");
        assert_eq!(why_not(oil("0")), "There is no 0 in the list; its last number is 5.");
        assert_eq!(
            why_not(oil("99999999999999999999999")),
            "There is no 99999999999999999999999 in the list; its last number is 5."
        );
        assert_eq!(why_not(oil("  ")), "Nothing was typed.");
        assert_eq!(
            why_not(oil("clowdy")),
            "\"clowdy\" is not one of the answers. Did you mean cloudy?"
        );
        assert_eq!(why_not(oil("purple")), "\"purple\" is not one of the answers.");
        assert_eq!(why_not(oil("skip")), "skip is not offered here.");
        assert_eq!(why_not(understand("more", &OIL, &[])), "more is not offered here.");
    }

    #[test]
    fn a_number_that_is_also_an_answer_is_not_guessed_at() {
        let hoses = ["0", "1", "2", "12"];
        assert!(why_not(understand("1", &hoses, &[])).contains("full stop"));
        assert_eq!(understand("1.", &hoses, &[]), Understood::Option(0));
        assert_eq!(understand("12", &hoses, &[]), Understood::Option(3));
        assert_eq!(understand("4", &hoses, &[]), Understood::Option(3));
        assert_eq!(understand("1", &["1", "2"], &[]), Understood::Option(0));
    }
    proptest::proptest! {
        #[test]
        fn whatever_is_typed_gives_an_answer_of_the_list_or_a_reason(typed in "(?s).{0,20}") {
            match oil(&typed) {
                Understood::Option(place) => proptest::prop_assert!(place < OIL.len()),
                Understood::Act(action) => proptest::prop_assert!(
                    action.is_of_the_console() || ASKED.contains(&action)
                ),
                Understood::Unclear(line) | Understood::Elsewhere(line) => {
                    proptest::prop_assert!(!line.to_text().is_empty());
                }
            }
        }
    }
}
