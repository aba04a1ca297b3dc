//! A record with more answers at its end: what these can't touch is as it was.
//!
//! What a test could say is asked by supposing its answers, hundreds of times over. Of a handbook's
//! cells each supposition touches a few; all others are evaluated once, on the record as it is.

use std::rc::Rc;

use super::Worksheet;
use super::cells::touched;
use crate::evidence::record::Record;
use crate::formula::Symbol;

/// The worksheet that another one goes on from.
#[derive(Debug)]
pub(super) struct Base<'a> {
    sheet: Worksheet<'a>,
    /// For each question, in the order of the handbook, whether what it stands for may be another
    /// one by now.
    is_touched: Vec<bool>,
}

impl<'a> Worksheet<'a> {
    /// The same handbook over the same record with more answers at its end. The record must begin
    /// with this one's answers, and have its actions and rounds.
    #[must_use]
    pub(in crate::evidence) fn gone_on<'r>(&self, record: &'r Record) -> Worksheet<'r>
    where
        'a: 'r,
    {
        debug_assert!(record.given.starts_with(&self.record.given));
        debug_assert_eq!((&record.done, &record.rounds), (&self.record.done, &self.record.rounds));
        let more = &record.given[self.record.given.len()..];
        let sheet: Worksheet<'r> = self.seen_as(self.view);
        let base = Base { sheet, is_touched: touched(self.handbook, more) };
        Worksheet { base: Some(Rc::new(base)), ..self.over(record) }
    }

    /// What this one goes on from, seen in the same way, for a name that nothing touched.
    pub(super) fn untouched(&self, symbol: Symbol) -> Option<Worksheet<'a>> {
        let base = self.base.as_ref()?;
        let behind = self.handbook.questions_behind(symbol);
        let is_touched = behind.iter().any(|question| base.is_touched[question.index()]);
        (!is_touched).then(|| base.sheet.seen_as(self.view))
    }
}
