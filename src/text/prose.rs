//! Counts and lists in words, written once.

/// An id as it is said: `blank_off_limit` becomes `blank off limit`.
#[must_use]
pub fn spoken(id: &str) -> String {
    id.replace('_', " ")
}

/// `1 reading`, `2 readings`; the plural adds `s`.
#[must_use]
pub fn count(number: usize, noun: &str) -> String {
    format!("{number} {}", plural(number, noun))
}

/// The noun alone, in the number asked for; the plural adds `s`.
#[must_use]
pub fn plural(number: usize, noun: &str) -> String {
    if number == 1 { noun.to_owned() } else { format!("{noun}s") }
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn list_and<S: AsRef<str>>(items: &[S]) -> String {
    list(items, "and")
}

/// `a`, `a or b`, `a, b or c`.
#[must_use]
pub fn list_or<S: AsRef<str>>(items: &[S]) -> String {
    list(items, "or")
}

/// The text with its first letter as a capital.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn list<S: AsRef<str>>(items: &[S], last_joint: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {last_joint} {}", first.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_a_person_would_write_them() {
        assert_eq!(list_or::<&str>(&[]), "");
        assert_eq!(list_and(&["a"]), "a");
        assert_eq!(list_and(&["a", "b"]), "a and b");
        assert_eq!(list_or(&["a", "b", "c"]), "a, b or c");
        assert_eq!(count(0, "draw"), "0 draws");
        assert_eq!(capital("öl"), "Öl");
    }
}
