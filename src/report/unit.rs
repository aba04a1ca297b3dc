//! The first doubt of a verdict: a gauge whose unit nobody knows.

use crate::case::Case;
use crate::evidence::Given;
use crate::text::{Line, Role};

/// That nobody knows which unit a gauge shows, with what is read from it by the number alone.
pub(super) fn unit_in_doubt(case: &Case<'_>) -> Option<Line> {
    let sheet = case.worksheet();
    let faces = sheet.faces_in_doubt();
    let is_bare = |given: &&Given| {
        let face = case.handbook().face(given.question);
        given.bare_in.is_some() && face.is_some_and(|face| faces.contains(&face))
    };
    let bare = case.record().given.iter().filter(is_bare).count();
    let first = faces.first()?;
    let said = match bare {
        0 => "Until that is known, a number alone will say nothing.".to_owned(),
        1 => "The number that was given without its unit says nothing until then.".to_owned(),
        more => {
            format!("The {more} numbers that were given without their unit say nothing until then.")
        }
    };
    let ask = case.ask(*first).to_text();
    let lead = "Nobody has found this out yet: ";
    Some(Line::new().push(Role::Strong, lead).push(Role::Plain, format!("{ask} {said}")))
}
