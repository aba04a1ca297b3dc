//! The characters between the axes of a chart.

use super::key::Drawn;
use super::picture::{Limit, Picture};

/// The characters of a chart.
pub(super) struct Marks {
    pub reading: char,
    pub fit: char,
    pub straight: char,
    pub levelling: char,
    pub limit: char,
    pub side: char,
    pub side_tick: char,
    pub corner: char,
    pub base: char,
    pub base_tick: char,
}

/// Marks of box drawing.
pub(super) const DRAWN: Marks = Marks {
    reading: '●',
    fit: '·',
    straight: '═',
    levelling: '≈',
    limit: '┄',
    side: '│',
    side_tick: '┤',
    corner: '└',
    base: '─',
    base_tick: '┬',
};

/// Marks for a locale without it.
pub(super) const ASCII: Marks = Marks {
    reading: 'o',
    fit: '.',
    straight: '=',
    levelling: '~',
    limit: '-',
    side: '|',
    side_tick: '+',
    corner: '+',
    base: '-',
    base_tick: '+',
};

impl Marks {
    pub fn of(&self, drawn: Drawn) -> char {
        match drawn {
            Drawn::Readings => self.reading,
            Drawn::Fit => self.fit,
            Drawn::Straight => self.straight,
            Drawn::Levelling => self.levelling,
            Drawn::Limit => self.limit,
        }
    }
}

/// Which columns a line fills, so that two lines in one place show both.
fn is_filled(drawn: Drawn, column: usize) -> bool {
    match drawn {
        Drawn::Readings | Drawn::Fit => true,
        Drawn::Straight => column % 3 != 2,
        Drawn::Levelling => column.is_multiple_of(2),
        Drawn::Limit => column % 4 != 3,
    }
}

/// The characters between the axes.
pub(super) struct Plot {
    pub cells: Vec<Vec<char>>,
    pub columns: usize,
}

impl Plot {
    pub fn new(columns: usize, height: usize) -> Self {
        Self { cells: vec![vec![' '; columns]; height], columns }
    }

    pub fn row(&self, picture: &Picture, pressure: f64) -> usize {
        let last = self.cells.len() - 1;
        last - nearest(picture.pressure.share(pressure), last)
    }

    pub fn column(&self, picture: &Picture, time: f64) -> usize {
        nearest(picture.time.share(time), self.columns - 1)
    }

    pub fn draw(&mut self, picture: &Picture, marks: &Marks) {
        let limit = picture.limit.as_ref().filter(|limit| limit.is_drawn);
        if let Some(limit) = limit {
            let end = self.column(picture, limit.until.min(picture.time.high()));
            let row = self.row(picture, limit.pressure);
            (0..=end).for_each(|column| self.fill(Drawn::Limit, column, row, marks));
        }
        for curve in &picture.curves {
            for (time, pressure) in &curve.points {
                let place = (self.column(picture, *time), self.row(picture, *pressure));
                self.fill(curve.drawn, place.0, place.1, marks);
            }
        }
        for (time, pressure) in &picture.readings {
            let (column, row) = (self.column(picture, *time), self.row(picture, *pressure));
            self.cells[row][column] = marks.reading;
        }
        if let Some(limit) = limit {
            self.label(picture, limit, marks);
        }
    }

    fn fill(&mut self, drawn: Drawn, column: usize, row: usize, marks: &Marks) {
        if is_filled(drawn, column) {
            self.cells[row][column] = marks.of(drawn);
        }
    }

    /// Writes the limit's name into its line, at the left or the right, where nothing else is.
    fn label(&mut self, picture: &Picture, limit: &Limit, marks: &Marks) {
        let label: Vec<char> = format!(" limit {:.0} ", limit.pressure).chars().collect();
        let row = self.row(picture, limit.pressure);
        let end = self.column(picture, limit.until.min(picture.time.high())) + 1;
        let starts = [Some(2), end.checked_sub(label.len() + 2)];
        let is_free = |start: &usize| {
            let cells = self.cells[row].get(*start..start + label.len());
            start + label.len() <= end
                && cells.is_some_and(|cells| cells.iter().all(|c| *c == ' ' || *c == marks.limit))
        };
        if let Some(start) = starts.into_iter().flatten().find(is_free) {
            self.cells[row][start..start + label.len()].copy_from_slice(&label);
        }
    }
}

/// The nearest of the places from 0 to `last`; what is no number is at 0.
fn nearest(share: f64, last: usize) -> usize {
    ((share * last as f64).round().max(0.0) as usize).min(last)
}
