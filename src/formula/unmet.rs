//! Why a condition is not met, in words: those of its parts that fail, and not the whole of it.

use super::evaluate::evaluate;
use super::resolved::{Checked, Expression, Resolved};
use super::{Facts, Unknown, Value, Verdict, verdict};
use crate::text::{list_and, spoken};

/// What is wrong with a part of a condition, the worst first.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Lack {
    /// It is not so.
    Failed,
    /// The doubt in the readings leaves it open.
    TooClose,
    /// Something it needs is missing: what, if one thing alone is.
    Unknown(Option<Unknown>),
}

impl Lack {
    fn rank(&self) -> u8 {
        match self {
            Self::Failed => 0,
            Self::TooClose => 1,
            Self::Unknown(_) => 2,
        }
    }
}

impl Checked {
    /// Why a yes or no is not a yes: the parts joined by `and` that are not met, those behind a
    /// name included, as far as that name has no words of its own. Where several are not, those
    /// that failed are told before those that are too close to call or not known. None where the
    /// condition is met.
    #[must_use]
    pub fn unmet(&self, facts: &dyn Facts) -> Option<String> {
        let whole = lack(&evaluate(self, facts))?;
        let mut parts = Vec::new();
        self.gather(&self.root, facts, &mut parts);
        let worst = parts.iter().map(|(lack, _)| lack.rank()).min();
        parts.retain(|(lack, _)| Some(lack.rank()) == worst);
        let lack = parts.first().map_or(whole, |(lack, _)| lack.clone());
        let mut told: Vec<String> = Vec::new();
        for (_, words) in parts {
            if !told.contains(&words) {
                told.push(words);
            }
        }
        if told.is_empty() {
            // Each part is met by itself, but not all of them in the same draws.
            told.push(self.in_words(facts));
        }
        let is_alone = told.len() == 1;
        let is_question = self.uses().iter().any(|used| {
            facts.is_answered(used.symbol) && is_alone && told[0] == spoken(facts.name(used.symbol))
        });
        let parts: Vec<String> = told.iter().map(|part| format!("whether {part}")).collect();
        let parts = list_and(&parts);
        Some(match lack {
            Lack::Failed => format!("it counts only where {}", told.join(" and where ")),
            Lack::TooClose => format!("it is too close to say {parts}"),
            // Of a bare question there is nothing to say but that its answer is missing.
            Lack::Unknown(Some(why)) if is_alone && is_question => why.to_string(),
            Lack::Unknown(Some(why)) if is_alone => {
                format!("it is not known {parts}: {why}")
            }
            Lack::Unknown(_) => format!("it is not known {parts}"),
        })
    }

    /// The parts that are not met, in the order of the text.
    fn gather(&self, part: &Expression, facts: &dyn Facts, parts: &mut Vec<(Lack, String)>) {
        if let Resolved::And(inner) = &part.form {
            inner.iter().for_each(|inner| self.gather(inner, facts, parts));
            return;
        }
        let alone = Self { root: Box::new(part.clone()), ..self.clone() };
        let Some(lack) = lack(&evaluate(&alone, facts)) else { return };
        let behind = match part.form {
            Resolved::Recall(used) => facts.behind(used.symbol),
            _ => None,
        };
        if let Some(behind) = behind.filter(|behind| matches!(behind.root.form, Resolved::And(_))) {
            let before = parts.len();
            behind.gather(&behind.root, facts, parts);
            if parts.len() > before {
                return;
            }
        }
        parts.push((lack, self.part_in_words(part, facts)));
    }
}

fn lack(value: &Value) -> Option<Lack> {
    match value {
        Value::Truth(draws) => match verdict(draws) {
            Verdict::Yes(_) => None,
            Verdict::No(_) => Some(Lack::Failed),
            Verdict::TooClose(_) => Some(Lack::TooClose),
            Verdict::Unknown => Some(Lack::Unknown(None)),
        },
        Value::Unknown(why) => Some(Lack::Unknown(Some(why.clone()))),
        _ => Some(Lack::Unknown(None)),
    }
}
