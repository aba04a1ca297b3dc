//! Numbers: digits, a point, an exponent; and the ways of writing them that formulas refuse.

use super::Lexer;
use crate::diagnostic::Code;
use crate::formula::token::Token;

impl Lexer<'_, '_> {
    /// Reads the number that starts here.
    pub(super) fn number(&mut self) {
        let start = self.at;
        self.digits();
        let mut is_whole = true;
        if self.rest().starts_with('.') && self.digit_follows(1) {
            is_whole = false;
            self.at += 1;
            self.digits();
        }
        is_whole &= !self.exponent();
        let end = self.at;
        let meant = self.refused_tail(start).unwrap_or_else(|| self.text[start..end].to_owned());
        let value = meant.parse::<f64>().unwrap_or(f64::INFINITY);
        let range = start..self.at;
        if !value.is_finite() {
            let title = format!("`{meant}` is too large a number");
            self.fault(Code::BadNumber, title, range.clone(), "beyond what can be computed", None);
        }
        self.push(Token::Number { value, is_whole }, range);
    }

    fn digits(&mut self) {
        while self.digit_follows(0) {
            self.at += 1;
        }
    }

    /// Passes over `e3`, `E-3` if one stands here.
    fn exponent(&mut self) -> bool {
        let rest = self.rest().as_bytes();
        if !matches!(rest.first(), Some(b'e' | b'E')) {
            return false;
        }
        let sign = usize::from(matches!(rest.get(1), Some(b'+' | b'-')));
        if !self.digit_follows(1 + sign) {
            return false;
        }
        self.at += 1 + sign;
        self.digits();
        true
    }

    /// What stands right behind a number and can't: a comma or an underscore with more digits, a
    /// second point. Reports it and gives the number that was meant.
    fn refused_tail(&mut self, start: usize) -> Option<String> {
        match self.rest().as_bytes().first()? {
            b',' if self.digit_follows(1) => Some(self.comma(start)),
            b'_' if self.digit_follows(1) => Some(self.underscore(start)),
            b'.' => Some(self.point(start)),
            _ => None,
        }
    }

    fn comma(&mut self, start: usize) -> String {
        let before = &self.text[start..self.at];
        let mut groups = Vec::new();
        while self.rest().starts_with(',') && self.digit_follows(1) {
            let from = self.at + 1;
            self.at += 1;
            self.digits();
            groups.push(&self.text[from..self.at]);
        }
        let is_plain = before.bytes().all(|b| b.is_ascii_digit());
        let is_thousands = is_plain
            && before.len() <= 3
            && !before.starts_with('0')
            && groups.iter().all(|group| group.len() == 3);
        if is_thousands && self.rest().starts_with('.') && self.digit_follows(1) {
            self.at += 1;
            self.digits();
        }
        self.exponent();
        let written = &self.text[start..self.at];
        let meant = if is_thousands {
            written.replace(',', "")
        } else if groups.len() == 1 && is_plain {
            written.replace(',', ".")
        } else {
            before.to_owned()
        };
        self.report_comma(start, &meant, is_thousands, groups.len() == 1 && is_plain);
        meant
    }

    fn report_comma(&mut self, start: usize, meant: &str, is_thousands: bool, is_decimal: bool) {
        let written = &self.text[start..self.at];
        let title = match (self.open > 0, is_thousands) {
            (true, _) => format!("`{written}` could be one number or several"),
            (_, true) => format!("`{written}` has a comma between its thousands"),
            _ => format!("`{written}` has a comma for its decimal point"),
        };
        let apart = || written.replace(',', ", ");
        let help = match (self.open > 0, is_thousands || is_decimal) {
            (true, true) => {
                Some(format!("write `{meant}`, or with a blank behind the comma: `{}`", apart()))
            }
            (true, false) => Some(format!("put a blank behind each comma: `{}`", apart())),
            (false, true) => Some(format!("write `{meant}`")),
            (false, false) => None,
        };
        let range = start..self.at;
        self.fault(Code::BadNumber, title, range, "a comma right between digits", help);
    }

    fn underscore(&mut self, start: usize) -> String {
        while self.rest().starts_with('_') && self.digit_follows(1) {
            self.at += 1;
            self.digits();
        }
        let written = &self.text[start..self.at];
        let meant = written.replace('_', "");
        let title = format!("`{written}` has an underscore between its digits");
        let help = Some(format!("write `{meant}`"));
        self.fault(Code::BadNumber, title, start..self.at, "not a number", help);
        meant
    }

    fn point(&mut self, start: usize) -> String {
        let before = self.text[start..self.at].to_owned();
        self.at += 1;
        self.digits();
        while self.rest().starts_with('.') && self.digit_follows(1) {
            self.at += 1;
            self.digits();
        }
        let written = &self.text[start..self.at];
        let (title, help) = if before.len() + 1 == written.len() && !before.contains('.') {
            (format!("`{written}` ends in a point"), Some(format!("write `{before}`")))
        } else {
            (format!("`{written}` has more than one decimal point"), None)
        };
        self.fault(Code::BadNumber, title, start..self.at, "not a number", help);
        before
    }
}
