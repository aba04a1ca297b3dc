//! What a formula asks of the world around it.

use serde::{Deserialize, Serialize};

use super::{Applied, Checked, Kind, Use, Value};
use crate::quantity::UnitExpression;
use crate::source::Span;

/// A name of a handbook, by its place in that handbook's table of names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Symbol(pub u32);

/// What a name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Referent {
    /// Something a person answers.
    Question,
    /// Something computed.
    Formula,
    /// A judgement; used in a formula it is a yes or no, or a choice.
    Finding,
}

/// What the checker is told about a name.
#[derive(Clone, Debug)]
pub struct NameInfo {
    /// The name's place in the table.
    pub symbol: Symbol,
    /// What it stands for.
    pub referent: Referent,
    /// What it gives.
    pub kind: Kind,
    /// Where its kind was declared, for messages.
    pub declared: Option<Span>,
}

/// The names that a formula may use; asked while checking.
pub trait Names {
    /// What a question, formula or finding of this name is, if there is one.
    fn lookup(&self, name: &str) -> Option<NameInfo>;
    /// The action of this name, if there is one.
    fn action(&self, name: &str) -> Option<Symbol>;
    /// Every name that [`lookup`](Self::lookup) knows, for near names.
    fn all_names(&self) -> Vec<&str>;
    /// Every action's name, for near names.
    fn all_actions(&self) -> Vec<&str>;
}

/// The values behind the names; asked while evaluating.
pub trait Facts {
    /// The latest value of a question, or the value of a formula or finding.
    fn latest(&self, symbol: Symbol) -> Value;
    /// The first answer of a question.
    fn first(&self, symbol: Symbol) -> Value;
    /// The answer before the latest.
    fn previous(&self, symbol: Symbol) -> Value;
    /// The last answer given before the latest time that an action was done; for a formula, its
    /// value from the answers given until then.
    fn before(&self, action: Symbol, symbol: Symbol) -> Value;
    /// Every answer of a question, oldest first; for a formula in a tree that runs in rounds, its
    /// value in each round.
    fn every(&self, symbol: Symbol) -> Value;
    /// The name itself, for messages.
    fn name(&self, symbol: Symbol) -> &str;
    /// The unit in which a quantity of this name is shown.
    fn unit(&self, symbol: Symbol) -> Option<&UnitExpression>;
    /// Whether a quantity of this name rests only on settings of which one is not known but taken
    /// from its usual range.
    fn is_assumed(&self, _: Symbol) -> bool {
        false
    }
    /// Whether a name is answered by a person and not computed.
    fn is_answered(&self, _: Symbol) -> bool {
        false
    }
    /// A quantity as a person gave it, with its unit and no rounding; none where it was computed,
    /// given with a doubt of its own, or in another unit than it is shown in.
    fn as_given(&self, _: Use) -> Option<String> {
        None
    }
    /// What is so when a yes or no of this name is a yes, in its author's words.
    fn said(&self, _: Symbol) -> Option<String> {
        None
    }
    /// What functions were applied to before, with what came of it; none where it is not kept.
    fn applied(&self) -> Option<&Applied> {
        None
    }
    /// The formula behind a name that has one.
    fn behind(&self, _: Symbol) -> Option<&Checked> {
        None
    }
    /// What a choice of this name is called, by its place in the order.
    fn choice_label(&self, symbol: Symbol, choice: usize) -> String;
}
