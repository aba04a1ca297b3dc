//! Sets of what a yes or no may come to.

use crate::formula::Truth;

/// Some of yes, no and not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub(super) struct Truths(u8);

impl Truths {
    /// None of them: it can't be.
    pub const NONE: Self = Self(0);
    /// Yes alone.
    pub const YES: Self = Self(1);
    /// No alone.
    pub const NO: Self = Self(2);
    /// Not known alone.
    pub const UNKNOWN: Self = Self(4);
    /// Yes or no.
    pub const KNOWN: Self = Self(3);
    /// Any of them.
    pub const ALL: Self = Self(7);

    pub fn one(truth: Truth) -> Self {
        match truth {
            Truth::Yes => Self::YES,
            Truth::No => Self::NO,
            Truth::Unknown => Self::UNKNOWN,
        }
    }

    /// Yes where it may hold, no where it may fail, not known where that may be.
    pub fn when(yes: bool, no: bool, unknown: bool) -> Self {
        Self(u8::from(yes) | u8::from(no) << 1 | u8::from(unknown) << 2)
    }

    pub fn has(self, some: Self) -> bool {
        self.0 & some.0 != 0
    }

    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub fn and_those_of(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    pub fn only_those_of(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// What the opposite may come to.
    pub fn turned(self) -> Self {
        Self::when(self.has(Self::NO), self.has(Self::YES), self.has(Self::UNKNOWN))
    }

    /// What `a and b` may come to, draw by draw.
    pub fn and(self, other: Self) -> Self {
        if self.is_empty() || other.is_empty() {
            return Self::NONE;
        }
        let (yes, no, unknown) = (Self::YES, Self::NO, Self::UNKNOWN);
        let is_unknown = self.has(unknown) && (other.has(unknown) || other.has(yes))
            || other.has(unknown) && self.has(yes);
        Self::when(self.has(yes) && other.has(yes), self.has(no) || other.has(no), is_unknown)
    }

    /// What `a or b` may come to, draw by draw.
    pub fn or(self, other: Self) -> Self {
        self.turned().and(other.turned()).turned()
    }
}

#[cfg(test)]
mod tests {
    use super::Truths;

    #[test]
    fn logic_on_sets_is_logic_on_each_pair() {
        let and = |a: Truths, b: Truths| match (a, b) {
            (Truths::NO, _) | (_, Truths::NO) => Truths::NO,
            (Truths::YES, Truths::YES) => Truths::YES,
            _ => Truths::UNKNOWN,
        };
        let each = [Truths::YES, Truths::NO, Truths::UNKNOWN];
        for a in 1..8 {
            for b in 1..8 {
                let (a, b) = (Truths(a), Truths(b));
                let mut pairs = Truths::NONE;
                for x in each.into_iter().filter(|x| a.has(*x)) {
                    for y in each.into_iter().filter(|y| b.has(*y)) {
                        pairs = pairs.and_those_of(and(x, y));
                    }
                }
                assert_eq!(a.and(b), pairs, "{a:?} and {b:?}");
                assert_eq!(a.turned().or(b.turned()).turned(), pairs);
            }
        }
    }
}
