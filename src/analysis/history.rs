//! What may have happened to a question by the time a step is come to, whatever the answers were:
//! how often it has been asked, and what has been done since.

use std::collections::{BTreeMap, VecDeque};

use crate::handbook::{Handbook, QuestionId, Step, StepKind, Target, TreeId};

/// What has been done since a question was last asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Since {
    Nothing,
    /// A step was done, but no action of the handbook.
    Deed,
    /// An action was done, which may have changed what there is to see.
    Action,
    /// What was answered is outdated, so that it is asked again.
    Outdated,
}

/// How a question stands on one way to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    Never,
    /// Asked once, or more often.
    Asked {
        again: bool,
        since: Since,
    },
}

/// Every standing there is.
const ALL: [Standing; 9] = [
    Standing::Never,
    Standing::Asked { again: false, since: Since::Nothing },
    Standing::Asked { again: false, since: Since::Deed },
    Standing::Asked { again: false, since: Since::Action },
    Standing::Asked { again: true, since: Since::Nothing },
    Standing::Asked { again: true, since: Since::Deed },
    Standing::Asked { again: true, since: Since::Action },
    Standing::Asked { again: false, since: Since::Outdated },
    Standing::Asked { again: true, since: Since::Outdated },
];

/// The set of the first one.
const NEVER: Standings = Standings(1);

/// A set of standings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Standings(u16);

impl Standings {
    fn one(standing: Standing) -> Self {
        let place = ALL.iter().position(|one| *one == standing).unwrap_or(0);
        Self(1 << place)
    }

    /// The standings in it.
    pub fn each(self) -> impl Iterator<Item = Standing> {
        let places = ALL.into_iter().enumerate();
        places.filter(move |(place, _)| self.0 >> place & 1 == 1).map(|(_, standing)| standing)
    }

    /// Whether some way here has not asked.
    pub fn may_be_unasked(self) -> bool {
        self.each().any(|standing| standing == Standing::Never)
    }

    /// Whether some way here has asked at most once, so that there is no answer before the latest.
    pub fn may_lack_an_earlier(self) -> bool {
        self.each().any(|standing| !matches!(standing, Standing::Asked { again: true, .. }))
    }

    fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Those on which the question has been asked.
    fn asked(self) -> Self {
        Self(self.0 & !NEVER.0)
    }

    /// What each of them becomes, put together.
    fn map(self, becomes: &Becomes) -> Self {
        let each = becomes.iter().enumerate().filter(|(place, _)| self.0 >> place & 1 == 1);
        each.fold(Self::default(), |all, (_, more)| all.with(*more))
    }
}

/// From each standing at the start of a tree, in the order of [`ALL`], the standings it may have
/// become.
type Becomes = [Standings; ALL.len()];

fn becomes(each: impl Fn(Standing) -> Standing) -> Becomes {
    ALL.map(|standing| Standings::one(each(standing)))
}

fn unchanged() -> Becomes {
    becomes(|standing| standing)
}

fn merged<const N: usize>(one: [Standings; N], other: [Standings; N]) -> [Standings; N] {
    let mut both = one;
    both.iter_mut().zip(other).for_each(|(own, more)| *own = own.with(more));
    both
}

/// Follows one question through trees.
pub(super) struct History<'a> {
    handbook: &'a Handbook,
    question: QuestionId,
    ends: BTreeMap<TreeId, Becomes>,
    /// What asking the question makes of it, where it has no answer or is asked again.
    asked: Becomes,
    asked_again: Becomes,
    /// What a deed and an action make of it.
    deed: Becomes,
    action: Becomes,
    outdated: Becomes,
}

impl<'a> History<'a> {
    pub fn new(handbook: &'a Handbook, question: QuestionId) -> Self {
        Self {
            handbook,
            question,
            ends: BTreeMap::new(),
            asked: becomes(|standing| asked(standing, false)),
            asked_again: becomes(|standing| asked(standing, true)),
            deed: becomes(|standing| since(standing, Since::Deed)),
            action: becomes(|standing| since(standing, Since::Action)),
            outdated: becomes(|standing| since(standing, Since::Outdated)),
        }
    }

    /// For each step of a tree that is begun with nothing asked, how the question may stand when
    /// the step is come to; nothing where no way leads.
    pub fn before(&mut self, tree: TreeId) -> Vec<Standings> {
        self.followed(tree, [NEVER]).iter().map(|from| from[0]).collect()
    }

    /// The same once the step has asked what it asks.
    pub fn after(&mut self, step: &Step, before: Standings) -> Standings {
        self.passed(step, [before])[0]
    }

    /// For each step what has become of each of the sets with which a tree is begun.
    fn followed<const N: usize>(
        &mut self,
        id: TreeId,
        begun: [Standings; N],
    ) -> Vec<[Standings; N]> {
        let tree = self.handbook.tree(id);
        let mut before = vec![[Standings::default(); N]; tree.steps.len()];
        let start = tree.start.index();
        before[start] = match tree.rounds {
            // What was seen in an earlier round is of another thing.
            Some(_) if self.is_of_rounds(id) => [NEVER; N],
            _ => begun,
        };
        let mut open = VecDeque::from([start]);
        while let Some(place) = open.pop_front() {
            let step = &tree.steps[place];
            let after = self.passed(step, before[place]);
            let used_up = self.used_up(step, before[place]);
            let by_bound = step.bound.map(|(_, then)| (then.index(), used_up));
            for (to, stands) in followers(step).into_iter().map(|to| (to, after)).chain(by_bound) {
                let more = merged(before[to], stands);
                if more != before[to] {
                    before[to] = more;
                    open.push_back(to);
                }
            }
        }
        before
    }

    fn is_of_rounds(&self, tree: TreeId) -> bool {
        self.handbook.tree(tree).rounds.is_some()
            && !self.handbook.question(self.question).is_setting()
    }

    /// Where a bound is used up the step is not passed once more, and has been passed before.
    fn used_up<const N: usize>(&self, step: &Step, before: [Standings; N]) -> [Standings; N] {
        let asks = matches!(step.kind, StepKind::Ask { question, .. } if question == self.question);
        if asks { before.map(Standings::asked) } else { before }
    }

    fn passed<const N: usize>(&mut self, step: &Step, before: [Standings; N]) -> [Standings; N] {
        let change = match step.kind {
            StepKind::Ask { question, again } if question == self.question => {
                if again {
                    self.asked_again
                } else {
                    self.asked
                }
            }
            StepKind::Visit(visited) => self.end(visited),
            StepKind::Do { .. } => self.deed,
            StepKind::Act { action, .. } => match self.handbook.action(action).outdates {
                ref all if all.contains(&self.question) => self.outdated,
                _ => self.action,
            },
            _ => return before,
        };
        before.map(|set| set.map(&change))
    }

    /// What a way through a tree to its end makes of the question.
    fn end(&mut self, id: TreeId) -> Becomes {
        if let Some(known) = self.ends.get(&id) {
            return *known;
        }
        let tree = self.handbook.tree(id);
        let before = self.followed(id, unchanged());
        // There may be nothing to go round.
        let mut end = if tree.rounds.is_some() { unchanged() } else { Becomes::default() };
        for (step, before) in tree.steps.iter().zip(before) {
            let after = self.passed(step, before);
            if matches!(step.kind, StepKind::End { .. }) {
                end = merged(end, after);
            }
            for target in step.next.targets() {
                if let Target::Tree(next) = target {
                    let beyond = self.end(next);
                    let both = after.map(|set| set.map(&beyond));
                    end = merged(end, both);
                }
            }
        }
        self.ends.insert(id, end);
        end
    }
}

/// A question that has an answer is passed, unless it is asked again.
fn asked(standing: Standing, again: bool) -> Standing {
    match standing {
        Standing::Never => Standing::Asked { again: false, since: Since::Nothing },
        // What stood before is outdated, and no earlier answer to look back at.
        Standing::Asked { since: Since::Outdated, .. } => {
            Standing::Asked { again: false, since: Since::Nothing }
        }
        Standing::Asked { .. } if again => Standing::Asked { again: true, since: Since::Nothing },
        stays @ Standing::Asked { .. } => stays,
    }
}

fn since(standing: Standing, deed: Since) -> Standing {
    match standing {
        Standing::Never => Standing::Never,
        Standing::Asked { again, since: Since::Outdated } => {
            Standing::Asked { again, since: Since::Outdated }
        }
        Standing::Asked { again, since: Since::Action } if deed != Since::Outdated => {
            Standing::Asked { again, since: Since::Action }
        }
        Standing::Asked { again, .. } => Standing::Asked { again, since: deed },
    }
}

/// The steps of its own tree that may follow a step that is passed.
fn followers(step: &Step) -> Vec<usize> {
    let followers = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Step(to) => Some(to.index()),
        Target::Tree(_) => None,
    });
    followers.collect()
}

#[cfg(test)]
mod tests {
    use super::{History, Since, Standing};
    use crate::handbook::{Handbook, compile};
    use crate::source::Sources;

    const WAYS: &str = r"
format: 1
name: Ways
version: 1
questions:
  level: {ask: How high is it?, kind: length, range: 0 m to 9 m, basis: estimate}
  goes_on: {ask: Does it go on?, kind: yes/no}
actions:
  mend: {do: Mend it., takes: 5 min, basis: estimate}
trees:
  looked:
    title: A look
    start: read
    steps:
      read: {ask: level, next: wait}
      wait: {do: Wait., next: over}
      over: {end: Read.}
  main:
    title: Main
    start: whether
    steps:
      whether: {ask: goes_on, next: {yes: look, no: read}}
      look: {visit: looked, next: mended}
      mended: {action: mend, next: read}
      read: {ask: level, again: true, at_most: 3, then: over, next: more}
      more: {ask: goes_on, again: true, next: {yes: rest, no: over}}
      rest: {do: Rest., next: read}
      over: {end: Over.}
";

    fn before(handbook: &Handbook, step: &str) -> Vec<String> {
        let question = handbook.find_question("level").unwrap();
        let main = handbook.find_tree("main").unwrap();
        let place = handbook.tree(main).steps.iter().position(|at| at.id == step).unwrap();
        let standings = History::new(handbook, question).before(main)[place];
        let told = standings.each().map(|standing| match standing {
            Standing::Never => "never".to_owned(),
            Standing::Asked { again, since } => {
                let since = match since {
                    Since::Nothing => "nothing",
                    Since::Deed => "deed",
                    Since::Action => "action",
                    Since::Outdated => "outdated",
                };
                format!("{}, {since} since", if again { "again" } else { "once" })
            }
        });
        told.collect()
    }

    #[test]
    fn ways_through_visits_and_circles_are_told_apart() {
        let mut sources = Sources::default();
        let file = sources.add("handbook.yaml", WAYS);
        let handbook = compile(&sources, &[file], &[]).handbook.unwrap();
        assert_eq!(before(&handbook, "whether"), ["never"]);
        assert_eq!(before(&handbook, "mended"), ["once, deed since"]);
        let at_read = ["never", "once, deed since", "once, action since", "again, deed since"];
        assert_eq!(before(&handbook, "read"), at_read);
        assert_eq!(before(&handbook, "more"), ["once, nothing since", "again, nothing since"]);
        // A bound that is used up comes after it has been asked, and asks no more.
        let at_over = [
            "once, nothing since",
            "once, deed since",
            "once, action since",
            "again, nothing since",
            "again, deed since",
        ];
        assert_eq!(before(&handbook, "over"), at_over);
    }
}
