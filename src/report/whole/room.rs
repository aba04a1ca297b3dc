//! The room of a message: what fits whole stands, and where something doesn't, that is said.

use super::sentences::sentences;
use crate::text::inert;

/// The most characters of a message (limit of ours: what a phone shows in one piece, some of its
/// short messages together).
pub const LONGEST_MESSAGE: usize = 1_000;

/// What is said where not all of the cautions fits.
const CAUTIONS_ELSEWHERE: &str =
    "The cautions are longer than fits here: have them read out before you do anything.";

/// What is said where an instruction does not fit whole: half of one may be worse than none.
const INSTRUCTION_ELSEWHERE: &str = "What to do next is too long for a message: have it read out.";

/// What is said where a plan does not fit whole.
const PLAN_ELSEWHERE: &str = "More of the plan is longer than fits here.";

/// What is left of a message, in characters.
pub(super) struct Room(usize);

impl Room {
    /// All of it.
    pub(super) fn empty() -> Self {
        Self(LONGEST_MESSAGE)
    }

    /// Whether a text and the blank behind it fit.
    fn fits(&self, text: &str) -> bool {
        text.chars().count() < self.0
    }

    /// The text if it fits, else what stands for it.
    pub(super) fn must(&mut self, text: &str, instead: &str) -> String {
        let whole = one_row(text);
        let taken = if self.fits(&whole) { whole } else { instead.to_owned() };
        self.take(&taken);
        taken
    }

    /// What to do and what to mind with it. An instruction stands whole or not at all: half of one
    /// may be worse than none. Of cautions that don't fit each one's first sentence stands, if
    /// that does, and that there is more.
    pub(super) fn instructed(
        &mut self,
        instruction: &str,
        cautions: &[String],
    ) -> (String, String) {
        let instruction = one_row(instruction);
        if instruction.is_empty() && cautions.is_empty() {
            return Default::default();
        }
        let fitting = in_ever_less(cautions)
            .into_iter()
            .find(|cautions| self.fits(&format!("{instruction} {cautions}")));
        match fitting {
            Some(cautions) => {
                self.take(&instruction);
                self.take(&cautions);
                (instruction, cautions)
            }
            None => (self.may(INSTRUCTION_ELSEWHERE), String::new()),
        }
    }

    /// What to do behind that and what to mind with it, if both fit; else nothing.
    pub(super) fn also(&mut self, instruction: &str, cautions: &[String]) -> String {
        let with =
            in_ever_less(cautions).map(|cautions| one_row(&format!("{instruction} {cautions}")));
        let fitting = with.into_iter().find(|text| self.fits(text)).unwrap_or_default();
        self.take(&fitting);
        fitting
    }

    /// A plan and what to mind with it. Each caution keeps its first sentence and the plan its limits,
    /// which are its last one, whatever else is left out: whoever holds a vacuum has to know them.
    pub(super) fn planned(&mut self, plan: &[String], cautions: &[String]) -> (String, String) {
        let whole = one_row(&plan.join(" "));
        let [all, gist, elsewhere] = in_ever_less(cautions);
        let cautions = match self.fits(&format!("{all} {whole}")) {
            true => self.may(&all),
            false => self.must(&gist, &elsewhere),
        };
        let Some((limits, before)) = plan.split_last().filter(|_| !self.fits(&whole)) else {
            return (self.may(&whole), cautions);
        };
        let limits = self.may(&format!("{PLAN_ELSEWHERE} {limits}"));
        let before = self.sentences(before);
        (one_row(&format!("{before} {limits}")), cautions)
    }

    /// The text if it fits, else nothing.
    pub(super) fn may(&mut self, text: &str) -> String {
        let whole = one_row(text);
        if !self.fits(&whole) {
            return String::new();
        }
        self.take(&whole);
        whole
    }

    /// As many of the sentences as fit whole, from the first on.
    pub(super) fn sentences(&mut self, said: &[String]) -> String {
        let mut taken: Vec<String> = Vec::new();
        for sentence in said {
            let sentence = self.may(sentence);
            if sentence.is_empty() {
                break;
            }
            taken.push(sentence);
        }
        taken.join(" ")
    }

    fn take(&mut self, text: &str) {
        if !text.is_empty() {
            self.0 = self.0.saturating_sub(text.chars().count() + 1);
        }
    }
}

/// Cautions whole, then each one's first sentence and that there is more, then that alone.
fn in_ever_less(cautions: &[String]) -> [String; 3] {
    if cautions.is_empty() {
        return Default::default();
    }
    let gist =
        cautions.iter().filter_map(|caution| sentences(&one_row(caution)).into_iter().next());
    let gist: Vec<String> = gist.chain([CAUTIONS_ELSEWHERE.to_owned()]).collect();
    [one_row(&cautions.join(" ")), gist.join(" "), CAUTIONS_ELSEWHERE.to_owned()]
}

/// A text in one row, harmless to show.
pub(super) fn one_row(text: &str) -> String {
    inert(&text.split_whitespace().collect::<Vec<_>>().join(" "))
}
