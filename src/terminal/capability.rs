//! What the terminal can do, decided from facts alone.

use std::io::IsTerminal;

/// What is known about the streams and the environment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Facts {
    /// Standard input is a terminal.
    pub stdin_is_terminal: bool,
    /// Standard output is a terminal.
    pub stdout_is_terminal: bool,
    /// Standard error is a terminal.
    pub stderr_is_terminal: bool,
    /// The variable `TERM`.
    pub term: Option<String>,
    /// The variable `NO_COLOR`.
    pub no_color: Option<String>,
    /// The variable `CLICOLOR`.
    pub clicolor: Option<String>,
    /// The variable `CLICOLOR_FORCE`.
    pub clicolor_force: Option<String>,
    /// The variable `ACCESSIBLE`.
    pub accessible: Option<String>,
    /// The person asked for plain prompts (`--plain`).
    pub is_plain_asked: bool,
    /// Whether the person asked for colour, or for none (`--color`).
    pub colour_asked: Option<bool>,
    /// The first of `LC_ALL`, `LC_CTYPE` and `LANG` that says something (POSIX).
    pub locale: Option<String>,
    /// Terminals of this system need no `TERM` (Windows).
    pub is_term_optional: bool,
}

/// Which of the two consoles can hold a dialogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dialogue {
    /// Lists to walk and filter, redrawn in place.
    Screen,
    /// Numbered lists and typed answers, a line after a line.
    Plain,
}

/// A stream that may carry colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stream {
    /// Standard output, which carries results.
    Results,
    /// Standard error, which carries the talk.
    Talk,
}

impl Facts {
    /// The facts about this process.
    #[must_use]
    pub fn of_this_process(is_plain_asked: bool, colour_asked: Option<bool>) -> Self {
        let variable = |name| std::env::var_os(name).map(|v| v.to_string_lossy().into_owned());
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(variable);
        Self {
            stdin_is_terminal: std::io::stdin().is_terminal(),
            stdout_is_terminal: std::io::stdout().is_terminal(),
            stderr_is_terminal: std::io::stderr().is_terminal(),
            term: variable("TERM"),
            no_color: variable("NO_COLOR"),
            clicolor: variable("CLICOLOR"),
            clicolor_force: variable("CLICOLOR_FORCE"),
            accessible: variable("ACCESSIBLE"),
            is_plain_asked,
            colour_asked,
            locale: locale.into_iter().find(|value| !value.is_empty()),
            is_term_optional: cfg!(windows),
        }
    }

    /// Which dialogue is possible; none where nobody could answer.
    ///
    /// Prompts need a terminal to read from and one to be seen on (standard error; standard output
    /// may be redirected). Plain prompts asked for by name (`--plain`) also read a pipe: then
    /// nobody is kept waiting, and the end of the pipe ends the dialogue.
    #[must_use]
    pub fn dialogue(&self) -> Option<Dialogue> {
        if !self.stdin_is_terminal {
            return self.is_plain_asked.then_some(Dialogue::Plain);
        }
        if !self.stderr_is_terminal {
            return None;
        }
        let is_plain = self.is_plain_asked || is_on(self.accessible.as_deref()) || self.is_dumb();
        Some(if is_plain { Dialogue::Plain } else { Dialogue::Screen })
    }

    /// Whether that stream is to be coloured. What was asked for by name wins over `NO_COLOR`, that
    /// over `CLICOLOR_FORCE`, and that over everything else; plain prompts, `CLICOLOR=0` and a dumb
    /// terminal mean no colour.
    #[must_use]
    pub fn is_coloured(&self, stream: Stream) -> bool {
        if let Some(asked) = self.colour_asked {
            return asked;
        }
        if self.no_color.as_deref().is_some_and(|value| !value.is_empty()) {
            return false;
        }
        if is_on(self.clicolor_force.as_deref()) {
            return true;
        }
        let is_terminal = match stream {
            Stream::Results => self.stdout_is_terminal,
            Stream::Talk => self.stderr_is_terminal,
        };
        let is_refused = self.clicolor.as_deref() == Some("0")
            || self.is_plain_asked
            || is_on(self.accessible.as_deref());
        is_terminal && !is_refused && !self.is_dumb()
    }

    /// Whether charts have to be drawn in ASCII: plain prompts ask for it, or the locale is not
    /// of UTF-8. Where there need be no `TERM` there need be no locale either.
    #[must_use]
    pub fn is_ascii(&self) -> bool {
        let locale = self.locale.as_deref().unwrap_or("").to_ascii_lowercase();
        let is_utf_8 = ["utf-8", "utf8"].iter().any(|name| locale.contains(name));
        self.is_plain_asked
            || is_on(self.accessible.as_deref())
            || !(is_utf_8 || self.is_term_optional && locale.is_empty())
    }

    fn is_dumb(&self) -> bool {
        match self.term.as_deref() {
            None | Some("") => !self.is_term_optional,
            Some(term) => term == "dumb",
        }
    }
}

/// Whether a variable is set to something that does not say no.
fn is_on(value: Option<&str>) -> bool {
    !matches!(value, None | Some("" | "0" | "false" | "no" | "off"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at_a_terminal() -> Facts {
        Facts {
            stdin_is_terminal: true,
            stdout_is_terminal: true,
            stderr_is_terminal: true,
            term: Some("xterm-256color".to_owned()),
            ..Facts::default()
        }
    }

    fn some(text: &str) -> Option<String> {
        Some(text.to_owned())
    }

    #[test]
    fn the_dialogue_follows_from_the_facts() {
        let full = at_a_terminal;
        let table = [
            ("capable", full(), Some(Dialogue::Screen)),
            (
                "results go to a file",
                Facts { stdout_is_terminal: false, ..full() },
                Some(Dialogue::Screen),
            ),
            ("nobody sees the talk", Facts { stderr_is_terminal: false, ..full() }, None),
            (
                "plain, but nobody sees the talk",
                Facts { stderr_is_terminal: false, is_plain_asked: true, ..full() },
                None,
            ),
            ("input from a pipe", Facts { stdin_is_terminal: false, ..full() }, None),
            (
                "a pipe, and plain asked for",
                Facts { stdin_is_terminal: false, is_plain_asked: true, ..full() },
                Some(Dialogue::Plain),
            ),
            (
                "a pipe, and only the environment asks for plain",
                Facts { stdin_is_terminal: false, accessible: some("1"), ..full() },
                None,
            ),
            ("no terminal at all", Facts::default(), None),
            ("plain asked for", Facts { is_plain_asked: true, ..full() }, Some(Dialogue::Plain)),
            ("accessible", Facts { accessible: some("1"), ..full() }, Some(Dialogue::Plain)),
            ("accessible off", Facts { accessible: some("0"), ..full() }, Some(Dialogue::Screen)),
            ("accessible empty", Facts { accessible: some(""), ..full() }, Some(Dialogue::Screen)),
            ("dumb", Facts { term: some("dumb"), ..full() }, Some(Dialogue::Plain)),
            ("no TERM", Facts { term: None, ..full() }, Some(Dialogue::Plain)),
            (
                "no TERM where none is needed",
                Facts { term: None, is_term_optional: true, ..full() },
                Some(Dialogue::Screen),
            ),
        ];
        for (name, facts, expected) in table {
            assert_eq!(facts.dialogue(), expected, "{name}");
        }
    }

    #[test]
    fn charts_are_drawn_in_what_the_locale_has() {
        let told = |locale: Option<&str>, is_plain_asked, is_term_optional| {
            let locale = locale.map(str::to_owned);
            Facts { locale, is_plain_asked, is_term_optional, ..Facts::default() }.is_ascii()
        };
        assert!(!told(Some("C.UTF-8"), false, false) && !told(Some("de_AT.utf8"), false, false));
        assert!(told(Some("C"), false, false) && told(None, false, false));
        assert!(told(Some("C.UTF-8"), true, false), "plain is plain");
        assert!(!told(None, false, true) && told(Some("C"), false, true));
    }

    #[test]
    fn colour_follows_from_the_facts() {
        let full = at_a_terminal;
        let piped = || Facts { stdout_is_terminal: false, ..full() };
        // (case, facts, results, talk)
        let table = [
            ("capable", full(), true, true),
            ("results redirected", piped(), false, true),
            ("talk redirected", Facts { stderr_is_terminal: false, ..full() }, true, false),
            ("NO_COLOR", Facts { no_color: some("1"), ..full() }, false, false),
            ("NO_COLOR empty", Facts { no_color: some(""), ..full() }, true, true),
            ("CLICOLOR=0", Facts { clicolor: some("0"), ..full() }, false, false),
            ("CLICOLOR=1, redirected", Facts { clicolor: some("1"), ..piped() }, false, true),
            ("forced", Facts { clicolor_force: some("1"), ..piped() }, true, true),
            ("force of 0 is none", Facts { clicolor_force: some("0"), ..piped() }, false, true),
            (
                "NO_COLOR against force",
                Facts { no_color: some("1"), clicolor_force: some("1"), ..full() },
                false,
                false,
            ),
            (
                "force against CLICOLOR=0 and dumb",
                Facts {
                    clicolor: some("0"),
                    clicolor_force: some("1"),
                    term: some("dumb"),
                    ..full()
                },
                true,
                true,
            ),
            ("dumb", Facts { term: some("dumb"), ..full() }, false, false),
            ("plain", Facts { is_plain_asked: true, ..full() }, false, false),
            ("accessible", Facts { accessible: some("yes"), ..full() }, false, false),
            (
                "asked for against NO_COLOR",
                Facts { colour_asked: Some(true), no_color: some("1"), ..piped() },
                true,
                true,
            ),
            (
                "refused against force",
                Facts { colour_asked: Some(false), clicolor_force: some("1"), ..full() },
                false,
                false,
            ),
        ];
        for (name, facts, results, talk) in table {
            assert_eq!(facts.is_coloured(Stream::Results), results, "{name}: results");
            assert_eq!(facts.is_coloured(Stream::Talk), talk, "{name}: talk");
        }
    }
}
