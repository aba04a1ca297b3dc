//! The ranking in one line.

use super::headline::not_read_again;
use super::next::nothing_leads;
use crate::case::Case;
use crate::evidence::wording::in_words;
use crate::text::Line;

/// `So far: likely (about 7 in 10) wet pump oil; then ...; nothing wrong: ...`
#[must_use]
pub fn ranking_line(case: &Case<'_>) -> Line {
    let assessment = case.assessment();
    if !assessment.has_evidence {
        return Line::plain("So far: no answer speaks for or against a cause yet.");
    }
    if let Some(line) = nothing_leads(case) {
        return Line::plain("So far: two readings can't both be. ").join(line);
    }
    if let Some(owed) = case.owed() {
        return Line::plain("So far: ").join(not_read_again(case, owed));
    }
    let mut entries: Vec<(f64, String)> = assessment
        .ranking
        .iter()
        .take(3)
        .map(|ranked| (ranked.probability, case.cause_view(ranked.cause).in_short))
        .collect();
    entries.push((assessment.nothing_wrong, "nothing wrong".to_owned()));
    entries.sort_by(|a, b| b.0.total_cmp(&a.0));
    let said: Vec<String> =
        entries.into_iter().map(|(p, name)| format!("{name}: {}", in_words(p))).collect();
    Line::plain(format!("So far: {}.", said.join("; ")))
}
