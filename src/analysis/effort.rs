//! How much is tried in a search: counted in conditions evaluated, never in time, so that a search
//! ends alike on every machine.

use std::cell::Cell;

/// What a search may still try.
#[derive(Debug)]
pub struct Effort {
    left: Cell<u32>,
}

impl Effort {
    /// So many evaluations of a condition.
    #[must_use]
    pub fn of(evaluations: u32) -> Self {
        Self { left: Cell::new(evaluations) }
    }

    /// Whether nothing more may be tried.
    #[must_use]
    pub fn is_spent(&self) -> bool {
        self.left.get() == 0
    }

    /// How many evaluations are left.
    pub(super) fn left(&self) -> u32 {
        self.left.get()
    }

    /// A share of it, at most so much; [`take_back`](Self::take_back) returns what is left over.
    #[must_use]
    pub fn lend(&self, most: u32) -> Self {
        let lent = most.min(self.left.get());
        self.left.set(self.left.get() - lent);
        Self::of(lent)
    }

    /// Takes back what is left of a share.
    pub fn take_back(&self, rest: &Self) {
        self.left.set(self.left.get().saturating_add(rest.left.take()));
    }

    /// Spends one evaluation, if there is one left.
    pub(super) fn spend(&self) -> bool {
        let left = self.left.get();
        self.left.set(left.saturating_sub(1));
        left > 0
    }
}

#[cfg(test)]
mod tests {
    use super::Effort;

    #[test]
    fn what_is_lent_comes_back_but_for_what_was_spent() {
        let all = Effort::of(5);
        let share = all.lend(3);
        assert!(share.spend() && share.spend());
        all.take_back(&share);
        let rest = all.lend(9);
        assert!(rest.spend() && rest.spend() && rest.spend() && !rest.spend());
        assert!(rest.is_spent() && all.is_spent());
    }
}
