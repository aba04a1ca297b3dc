//! Lines in the wrong column: which one is off, though the parser stumbles over another.

use super::lines::{Line, is_known_key, lines_to};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{FILE_KEYS, Section};
use crate::source::{SourceId, Span};
use crate::text::count;

/// Names the line that is off where the parser has stumbled at a byte, if there is one.
pub(super) fn misplaced(text: &str, id: SourceId, at: usize) -> Option<Diagnostic> {
    let lines = lines_to(text, at);
    let last = lines.len().checked_sub(1)?;
    let look = Look { lines: &lines, last, id };
    look.at_the_edge()
        .or_else(|| look.without_a_dash())
        .or_else(|| look.dash_off())
        .or_else(|| look.too_deep())
        .or_else(|| look.breaks_its_block())
        .or_else(|| look.in_no_column())
}

struct Look<'l, 't> {
    lines: &'l [Line<'t>],
    /// The line that the parser stumbles over.
    last: usize,
    id: SourceId,
}

impl<'l, 't> Look<'l, 't> {
    fn line(&self) -> &'l Line<'t> {
        &self.lines[self.last]
    }

    fn above(&self) -> Option<&'l Line<'t>> {
        self.lines.get(self.last.checked_sub(1)?)
    }

    /// The lines of the block that a line of this depth stands in, the nearest first.
    fn block(
        &self,
        before: usize,
        depth: usize,
    ) -> impl Iterator<Item = &'l Line<'t>> + use<'l, 't> {
        self.lines[..before].iter().rev().take_while(move |line| line.indent >= depth)
    }

    /// An id at the left edge, where only sections stand.
    fn at_the_edge(&self) -> Option<Diagnostic> {
        let edge = self.lines.iter().rposition(|line| line.indent == 0 && !line.has_dash)?;
        at_the_edge(self.lines, edge, self.id)
    }

    /// `if: rises` and `unknown: not_read` in a list of branches.
    fn without_a_dash(&self) -> Option<Diagnostic> {
        let line = self.line();
        let is_branch = |line: &&Line<'_>| {
            let key = line.key.unwrap_or("");
            !line.has_dash && matches!(key, "if" | "else" | "too_close" | "unknown")
        };
        let near = |line: &&Line<'_>| line.indent.abs_diff(self.line().indent) <= 2;
        let own = Some(line).filter(is_branch);
        let found = own.or_else(|| {
            let start = self.block(self.last, line.indent.saturating_sub(2)).take(3);
            start.filter(|line| line.has_dash || is_branch(line)).find(|line| !line.has_dash)
        });
        let found = found.filter(near).filter(|found| self.is_in_next(found))?;
        let key = found.key?;
        let title = format!("no dash stands before `{key}`");
        let fault = Diagnostic::at(
            Code::NotYaml,
            title,
            found.place(self.id),
            "a dash belongs before this",
        )
        .note("each row of a list of branches starts with a dash and a space");
        Some(match key {
            "if" => fault.help(format!(
                "write `- if: {}`, and `go` in the column of `if` below it",
                found.value
            )),
            _ => fault.help(format!("write `- {key}: {}`", found.value)),
        })
    }

    fn is_in_next(&self, line: &Line<'_>) -> bool {
        let before = self.lines.iter().rev().filter(|other| other.start < line.start);
        let mut openers = before.filter(|other| other.opens() && other.column < line.indent);
        openers.next().is_some_and(|opener| opener.key == Some("next"))
    }

    /// A dash beside the column of the dashes above.
    fn dash_off(&self) -> Option<Diagnostic> {
        let line = Some(self.line()).filter(|line| line.has_dash)?;
        let depth = line.indent.saturating_sub(3);
        let other = self.block(self.last, depth).find(|other| other.has_dash)?;
        (other.indent != line.indent).then(|| self.off(line, other.indent, other, "dash"))
    }

    /// A key deeper than the one above that has its value already.
    fn too_deep(&self) -> Option<Diagnostic> {
        let (line, above) = (self.line(), self.above()?);
        let is_deeper = line.column > above.column && !above.opens();
        if !is_deeper || line.key.is_none() || line.has_dash {
            return None;
        }
        let key = above.key?;
        let before = self.last - 1;
        let sibling = self.block(before, above.indent).find(|other| other.indent == above.indent);
        let is_empty = |other: &Line<'_>| {
            before.checked_sub(1).is_some_and(|at| self.lines[at].start == other.start)
        };
        let is_among_ids = sibling.is_some_and(|other| {
            other.opens() && (is_empty(other) || other.key.is_some_and(|k| !is_known_key(k)))
        });
        match is_known_key(key) && is_among_ids && !above.has_dash {
            true => Some(self.off(above, line.column, line, "key")),
            false => Some(self.off(line, above.column, above, "key")),
        }
    }

    /// A line to the left of its block, which the parser takes for the end of it.
    fn breaks_its_block(&self) -> Option<Diagnostic> {
        let line = self.line();
        let at = self.lines[..self.last].iter().rposition(|other| other.indent < line.indent)?;
        let breaker = &self.lines[at];
        let goes_on = self.block(at, breaker.indent + 1).find(|other| other.indent == line.indent);
        let is_first = || {
            let opener = self.lines.get(at.wrapping_sub(1))?;
            (opener.indent == breaker.indent && opener.opens()).then_some(line)
        };
        let neighbour = goes_on.or_else(is_first)?;
        (!breaker.has_dash).then(|| self.off(breaker, line.indent, neighbour, "line"))
    }

    /// A key between the columns of the lines above.
    fn in_no_column(&self) -> Option<Diagnostic> {
        let line = Some(self.line()).filter(|line| !line.has_dash)?;
        let is_known = is_known_key(line.key?);
        let mut open: Vec<&Line<'_>> = Vec::new();
        for above in self.lines[..self.last].iter().rev() {
            if above.key.is_some() && open.last().is_none_or(|last| above.column < last.column) {
                open.push(above);
            }
        }
        if open.iter().any(|above| above.column == line.column) {
            return None;
        }
        let misfit = |above: &&&Line<'_>| {
            let is_alike = above.key.is_some_and(is_known_key) == is_known;
            (!is_alike, above.column.abs_diff(line.column))
        };
        let near = open.iter().filter(|above| above.column.abs_diff(line.column) <= 3);
        let meant = near.min_by_key(misfit)?;
        Some(self.off(line, meant.column, meant, "key"))
    }

    /// The fault of a line that stands beside its column.
    fn off(&self, line: &Line<'_>, column: usize, beside: &Line<'_>, what: &str) -> Diagnostic {
        let stands = if line.has_dash { line.indent } else { line.column };
        let side = if stands < column { "left" } else { "right" };
        let far = count(stands.abs_diff(column), "space");
        let title = match (line.has_dash, line.key) {
            (false, Some(key)) => format!("`{key}` stands {far} too far to the {side}"),
            _ => format!("a {what} stands {far} too far to the {side}"),
        };
        let label = format!("{} belong before this", count(column, "space"));
        let place = |of: &Line<'_>| match line.has_dash {
            true => Span::new(self.id, of.start + of.indent, of.start + of.indent + 1),
            false => of.place(self.id),
        };
        Diagnostic::at(Code::NotYaml, title, place(line), label)
            .and_at(place(beside), "the column that it belongs in")
            .note("keys of one map, and dashes of one list, stand in one column")
            .help(format!("start the line after {}", count(column, "space")))
    }
}

/// The fault of a line at the left edge whose key is none of a file.
fn at_the_edge(lines: &[Line<'_>], at: usize, id: SourceId) -> Option<Diagnostic> {
    let line = &lines[at];
    let key = line.key.filter(|_| line.opens())?;
    lines.get(at + 1)?.key.filter(|inner| is_known_key(inner))?;
    if FILE_KEYS.iter().any(|known| known.key == key) {
        return None;
    }
    near_name(key, FILE_KEYS.iter().map(|known| known.key)).is_none().then_some(())?;
    let section = lines[..at].iter().rev().find(|line| line.indent == 0)?.key?;
    let section = Section::ALL.iter().copied().find(|one| one.key() == section)?;
    Some(edge_fault(key, section, line.place(id)))
}

/// What is said of an entry's id that stands at the left edge, below the lines of a section.
pub(in crate::document) fn edge_fault(id: &str, section: Section, place: Span) -> Diagnostic {
    let title = format!("`{id}` stands at the left edge, where only sections stand");
    let label = format!("if this is {}, two spaces belong before it", section.one_entry());
    Diagnostic::at(Code::NotYaml, title, place, label)
        .note(format!("ids stand two spaces below their section, here `{}`", section.key()))
        .help(format!("write two spaces before `{id}`"))
}
