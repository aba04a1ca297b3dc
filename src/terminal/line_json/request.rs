//! What a line in may say.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, Visitor};

use crate::case::FixedBy;

/// One line in. Ids are those of the handbook; `order` and `answer` are places in the list of events,
/// as the lines out name them.
#[derive(Clone, Debug, PartialEq, serde::Deserialize)]
#[serde(tag = "do", rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Request {
    /// Answers the question that is wanted, or the one named.
    Answer {
        /// The question; the one that is wanted if it is left out.
        question: Option<String>,
        /// The answer as it would be typed.
        typed: Typed,
        /// Whether a value out of the usual is meant all the same.
        #[serde(default)]
        meant: bool,
    },
    /// Puts an answer right, which keeps its place.
    Correct {
        /// The place of the answer.
        answer: usize,
        /// The right answer as it would be typed.
        typed: Typed,
        /// Whether a value out of the usual is meant all the same.
        #[serde(default)]
        meant: bool,
    },
    /// The step or action that is wanted is done.
    Done {},
    /// The step that is wanted is done, and its wait begins.
    Wait {},
    /// The step or action that is wanted is passed over.
    Skip {},
    /// An action was done that is not wanted now.
    Worked {
        /// The action.
        action: String,
    },
    /// Somebody acknowledges a caution that was told.
    Acknowledge {
        /// The caution.
        caution: String,
        /// Who does.
        by: String,
    },
    /// Somebody acknowledges what the stop of a danger asks for that was taken back.
    Mind {
        /// The question of the danger.
        question: String,
        /// Who does.
        by: String,
    },
    /// There is nothing left to run a round about.
    NoMore {},
    /// Takes the answer or deed back that was given last.
    Back {},
    /// Takes back what stands at a place.
    TakeBack {
        /// The place.
        order: usize,
    },
    /// Makes a note.
    Note {
        /// The note.
        text: String,
        /// Whether it is no danger, though its words may tell of one.
        #[serde(default)]
        meant: bool,
    },
    /// Names a photo or another file, which is not looked at.
    Attach {
        /// Its name.
        name: String,
    },
    /// Goes on with another tree.
    GoOn {
        /// The tree.
        tree: String,
    },
    /// Closes the case.
    Close {
        /// What mended it.
        fixed_by: FixedBy,
        /// Whether what the work was for was proved in the end.
        #[serde(default)]
        proved: bool,
        /// What is said about it.
        note: Option<String>,
    },
    /// Tells the verdict as it stands; nothing is changed by it.
    Verdict {},
    /// Ends the sitting; the case is kept.
    Leave {},
}

/// An answer as it would be typed: a text, a number without a unit, or yes and no as `true` and
/// `false`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Typed(pub String);

impl<'de> Deserialize<'de> for Typed {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AsTyped)
    }
}

struct AsTyped;

impl Visitor<'_> for AsTyped {
    type Value = Typed;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an answer as it would be typed: a text, a number, true or false")
    }

    fn visit_str<E: Error>(self, typed: &str) -> Result<Typed, E> {
        Ok(Typed(typed.to_owned()))
    }

    fn visit_bool<E: Error>(self, yes: bool) -> Result<Typed, E> {
        Ok(Typed(if yes { "yes" } else { "no" }.to_owned()))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Typed, E> {
        Ok(Typed(number.to_string()))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Typed, E> {
        Ok(Typed(number.to_string()))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Typed, E> {
        Ok(Typed(number.to_string()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str) -> Result<Request, String> {
        serde_json::from_str(line).map_err(|error| error.to_string())
    }

    #[test]
    fn an_answer_is_a_text_a_number_or_a_yes_and_no() {
        let typed = |value: &str| match read(&format!(r#"{{"do":"answer","typed":{value}}}"#)) {
            Ok(Request::Answer { typed: Typed(typed), question: None, meant: false }) => typed,
            other => panic!("{other:?}"),
        };
        assert_eq!(typed(r#""500 micron""#), "500 micron");
        assert_eq!(typed("500"), "500");
        assert_eq!(typed("-3"), "-3");
        assert_eq!(typed("0.25"), "0.25");
        assert_eq!(typed("true"), "yes");
        assert_eq!(typed("false"), "no");
        for no_answer in ["null", "[1]", r#"{"a":1}"#] {
            let line = format!(r#"{{"do":"answer","typed":{no_answer}}}"#);
            let why = read(&line).unwrap_err();
            assert!(why.contains("a text, a number, true or false"), "{why}");
        }
    }

    #[test]
    fn a_key_that_means_nothing_is_refused_everywhere() {
        for line in [
            r#"{"do":"answer","typed":"yes","to":"a"}"#,
            r#"{"do":"back","steps":2}"#,
            r#"{"do":"verdict","full":true}"#,
            r#"{"do":"close","fixed_by":"nothing","why":"x"}"#,
        ] {
            assert!(read(line).unwrap_err().contains("unknown field"), "{line}");
        }
        assert!(read(r#"{"typed":"yes"}"#).unwrap_err().contains("missing field `do`"));
        assert!(read(r#"{"do":"answr"}"#).unwrap_err().contains("unknown variant `answr`"));
    }
}
