//! Asking back when a value looks like a slip.

use super::console::Reply;
use super::prompt::{Menu, MenuOption};

/// How a doubt was settled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Settled {
    /// It was meant as typed.
    Keep,
    /// The suggestion was meant.
    Take(String),
    /// It is typed again.
    TypeAgain,
    /// The dialogue ended instead.
    Ended(Reply),
}

/// The three ways out: keep it, take what was probably meant, type it again.
pub(super) fn doubt_menu(read: &str, suggestion: Option<&str>) -> Menu {
    let mut options = vec![MenuOption::new(format!("keep {read}"))];
    options.extend(suggestion.map(|meant| MenuOption::new(format!("use {meant}"))));
    options.push(MenuOption::new("type it again"));
    // With nothing else that may be meant it is a question of yes or no.
    if let [keep, again] = &mut options[..] {
        let words = |said: &[&str]| said.iter().map(|word| (*word).to_owned()).collect();
        keep.words = words(&["yes", "y", "ok"]);
        again.words = words(&["no", "n"]);
    }
    Menu { title: Vec::new(), options, actions: Vec::new(), ..Menu::default() }
}

/// What a reply to that menu means.
pub(super) fn settled(reply: Reply, suggestion: Option<&str>) -> Settled {
    match (reply, suggestion) {
        (Reply::Chosen(0), _) => Settled::Keep,
        (Reply::Chosen(1), Some(meant)) => Settled::Take(meant.to_owned()),
        (ended @ (Reply::EndOfInput | Reply::Interrupted), _) => Settled::Ended(ended),
        _ => Settled::TypeAgain,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_a_suggestion_the_second_way_is_to_type_again() {
        assert_eq!(doubt_menu("9", None).options.len(), 2);
        assert_eq!(settled(Reply::Chosen(1), None), Settled::TypeAgain);
        assert_eq!(settled(Reply::Chosen(1), Some("8")), Settled::Take("8".to_owned()));
        assert_eq!(settled(Reply::Chosen(2), Some("8")), Settled::TypeAgain);
        assert_eq!(settled(Reply::Interrupted, None), Settled::Ended(Reply::Interrupted));
    }
}
