//! The chart of a hold, printed or written to a file.

use std::path::Path;

use anyhow::Result;

use super::session::Session;
use super::written_file::write_file;
use crate::report::{ChartLook, ShownIn, rise_chart, rise_svg};
use crate::rise::criterion::Criterion;
use crate::rise::{Hold, Reading};

/// What is drawn.
pub(super) struct Charted<'a> {
    pub hold: &'a Hold,
    pub reading: Option<&'a Reading>,
    pub criterion: Option<Criterion>,
    pub shown: &'a ShownIn,
}

impl Charted<'_> {
    /// Prints it as a result.
    pub fn print(&self, session: &mut Session<'_>) -> Result<()> {
        let width = session.result_paper().width();
        let look = ChartLook { width, height: None, is_ascii: session.facts.is_ascii() };
        for row in rise_chart(self.hold, self.reading, self.criterion, look, self.shown) {
            session.result(&row)?;
        }
        Ok(())
    }

    /// Writes it to a file, which may be there only if it is to be replaced.
    pub fn write(&self, session: &mut Session<'_>, path: &Path, is_forced: bool) -> Result<()> {
        let name = path.display();
        let Some(svg) = rise_svg(self.hold, self.reading, self.criterion, self.shown) else {
            return session.tell(&format!("Nothing is to be drawn; `{name}` was not written."));
        };
        write_file(path, &svg, "the chart", is_forced)?;
        session.tell(&format!("The chart is in {name}"))
    }
}
