//! A cause by what people call it or what mends it, in words that are near to the handbook's.

use std::collections::BTreeSet;

use anyhow::{Error, anyhow};

use crate::diagnostic::near_name;
use crate::handbook::{Cause, Handbook};
use crate::text::inert;

/// Words that stand in any name (limit of ours).
const OF_ANY_NAME: [&str; 8] = ["the", "a", "an", "of", "in", "to", "and", "new"];

/// The causes that words are about: all of them stand in what the cause is called; else in what mends
/// it, that which is tried first before any other.
pub(super) fn causes_called<'h>(handbook: &'h Handbook, typed: &str) -> Vec<&'h Cause> {
    let wanted = words(typed);
    if wanted.is_empty() {
        return Vec::new();
    }
    let called = |cause: &Cause| {
        let names = format!("{} {} {}", cause.id, cause.name, cause.in_short);
        wanted.is_subset(&words(&names))
    };
    let mended = |cause: &Cause, first: bool| {
        let of = if first { 1 } else { cause.fix.len() };
        cause
            .fix
            .iter()
            .take(of)
            .any(|action| wanted.is_subset(&words(&handbook.action(*action).id)))
    };
    let all = |is_it: &dyn Fn(&Cause) -> bool| -> Vec<&'h Cause> {
        handbook.causes().iter().filter(|cause| is_it(cause)).collect()
    };
    let tries =
        [all(&called), all(&|cause| mended(cause, true)), all(&|cause| mended(cause, false))];
    tries.into_iter().find(|found| !found.is_empty()).unwrap_or_default()
}

/// Why nothing was closed: which cause was probably meant, or all of them by id and name.
pub(super) fn no_cause(handbook: &Handbook, typed: &str, several: &[&Cause]) -> Error {
    let shown = inert(typed);
    let mut ids: Vec<&str> = handbook.causes().iter().map(|cause| cause.id.as_str()).collect();
    ids.extend(["nothing", "unknown"]);
    let told = |cause: &Cause| format!("{} ({})", cause.id, cause.in_short);
    if !several.is_empty() {
        let several: Vec<String> = several.iter().map(|cause| told(cause)).collect();
        return anyhow!(
            "`{shown}` may be several causes; --fixed-by takes one of {}",
            several.join(", ")
        );
    }
    match near_name(&typed.to_lowercase().replace([' ', '-'], "_"), ids.iter().copied()) {
        Some(near) => anyhow!("the case's handbook has no cause `{shown}`; did you mean `{near}`?"),
        None => {
            let all: Vec<String> = handbook.causes().iter().map(told).collect();
            anyhow!(
                "the case's handbook has no cause `{shown}`; --fixed-by takes {}, nothing, unknown",
                all.join(", ")
            )
        }
    }
}

fn words(text: &str) -> BTreeSet<String> {
    let lower = text.to_lowercase();
    let all = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    all.filter(|word| !OF_ANY_NAME.contains(word))
        .map(|word| word.trim_end_matches('s').to_owned())
        .collect()
}
