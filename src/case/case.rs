//! The case: events in, state and news out.

use super::event::Event;
use super::moment::Moment;
use super::moved::{News, Then, compare};
use super::now::{Decided, Now, Passed, Place, RoundEnd};
use super::standing::Standing;
use super::walk::{Start, Walk, walk};
use crate::evidence::{
    Account, Assessment, Engine, FindingState, Given, Insight, Judged, NextCheck, Reasons, Record,
    Saying, Streams, Witness, Worksheet, Worth, account, checks_left, worth_of,
};
use crate::handbook::{
    CauseId, CautionId, CautionSeverity, Closes, FindingId, Handbook, QuestionId, Target, TreeId,
};
use crate::text::Line;

/// Why an event can't happen now.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// A stop caution of the question or action must be acknowledged first.
    #[error("a caution must be acknowledged first")]
    NeedsAcknowledgement(CautionId),
    /// The event names something that the handbook doesn't have.
    #[error("the handbook has no {what} `{id}`")]
    NoSuch {
        /// What kind of thing.
        what: &'static str,
        /// The name.
        id: String,
    },
    /// There is no answer or deed at the place that is to be changed.
    #[error("there is nothing at place {0} that could be changed or taken back")]
    NothingThere(usize),
    /// A case is opened once, by its first event.
    #[error("a case is opened once, by its first event")]
    NotTheFirst,
}

/// One diagnosis from its first question to its verdict.
#[derive(Debug)]
pub struct Case<'h> {
    handbook: &'h Handbook,
    engine: &'h Engine,
    streams: Streams,
    start: Start,
    events: Vec<Event>,
    before: Option<Moment>,
    now: Moment,
}

impl<'h> Case<'h> {
    /// Opens a case at a tree.
    #[must_use]
    pub fn open(handbook: &'h Handbook, engine: &'h Engine, tree: TreeId) -> Self {
        let opened = Event::Opened {
            tree: handbook.tree(tree).id.clone(),
            handbook: handbook.hash().to_owned(),
        };
        Self::from_events(handbook, engine, Start::of(tree), vec![opened])
    }

    /// Replays a case from its events.
    ///
    /// # Errors
    /// The first [`Refusal`] that an event meets.
    pub fn replay(
        handbook: &'h Handbook,
        engine: &'h Engine,
        events: &[Event],
    ) -> Result<Self, Refusal> {
        let Some(Event::Opened { tree, .. }) = events.first() else {
            return Err(Refusal::NotTheFirst);
        };
        let tree = handbook.find_tree(tree).ok_or_else(|| no_such("tree", tree))?;
        let opened = Self::from_events(handbook, engine, Start::of(tree), events[..1].to_vec());
        for event in &events[1..] {
            opened.check_names(event)?;
        }
        Ok(Self::from_events(handbook, engine, Start::of(tree), events.to_vec()))
    }

    /// Opens a case at any step of a tree with answers that are known from the beginning, to try
    /// the tree out. Its events don't say where it began, so it can't be replayed from them.
    #[must_use]
    pub(super) fn tried(
        handbook: &'h Handbook,
        engine: &'h Engine,
        from: Place,
        answers: Vec<Event>,
    ) -> Self {
        let start = Start { tree: from.tree, step: Some(from.step), known: answers.len() };
        let mut events = Self::open(handbook, engine, from.tree).events;
        events.extend(answers);
        Self::from_events(handbook, engine, start, events)
    }

    fn from_events(
        handbook: &'h Handbook,
        engine: &'h Engine,
        start: Start,
        events: Vec<Event>,
    ) -> Self {
        let streams = Streams::default();
        let now = walk_events(handbook, &streams, start, &events, None).into();
        Self { handbook, engine, streams, start, events, before: None, now }
    }

    /// Lets an event happen; [`Self::news`] then says what it changed.
    ///
    /// # Errors
    /// [`Refusal`] if the event can't happen now; the case is then as it was.
    pub fn apply(&mut self, event: Event) -> Result<(), Refusal> {
        self.check_names(&event)?;
        self.check_cautions(&event)?;
        let only_adds = !matches!(event, Event::Corrected { .. } | Event::TakenBack { .. });
        self.events.push(event);
        let earlier = Some(&self.now.walk).filter(|_| only_adds);
        let walk = walk_events(self.handbook, &self.streams, self.start, &self.events, earlier);
        self.before = Some(std::mem::replace(&mut self.now, walk.into()));
        Ok(())
    }

    /// What the event that was applied last has changed; nothing in a case that was just opened or
    /// replayed.
    #[must_use]
    pub fn news(&self) -> News {
        let (Some(before), Some(event)) = (&self.before, self.events.last()) else {
            return News::default();
        };
        let of = |moment| {
            let sheet = self.sheet_of(moment);
            let assessment = moment.assessment(self.engine, &sheet);
            Then { sheet, walk: &moment.walk, assessment }
        };
        compare(event, &of(before), &of(&self.now))
    }

    fn check_names(&self, event: &Event) -> Result<(), Refusal> {
        let known = |is_known: bool, what, id: &str| {
            if is_known { Ok(()) } else { Err(no_such(what, id)) }
        };
        match event {
            Event::Opened { .. } => Err(Refusal::NotTheFirst),
            Event::Answered { question, .. } | Event::Minded { question, .. } => {
                known(self.handbook.find_question(question).is_some(), "question", question)
            }
            Event::Corrected { answer: order, .. } | Event::TakenBack { order } => {
                if *order == 0 {
                    Err(Refusal::NothingThere(0))
                } else {
                    Ok(())
                }
            }
            Event::Acknowledged { caution, .. } => {
                known(self.handbook.find_caution(caution).is_some(), "caution", caution)
            }
            Event::WentOn { tree } | Event::RoundsEnded { tree } => {
                known(self.handbook.find_tree(tree).is_some(), "tree", tree)
            }
            Event::Acted { action, .. } => {
                known(self.handbook.find_action(action).is_some(), "action", action)
            }
            // What a case was closed with is checked by whoever closes it: a handbook that has lost
            // the cause since must not make the case unreadable.
            Event::Did { .. }
            | Event::Skipped { .. }
            | Event::Waited { .. }
            | Event::Noted { .. }
            | Event::Attached { .. }
            | Event::Described { .. }
            | Event::Worded { .. }
            | Event::Closed { .. }
            | Event::Reopened
            | Event::Unknown => Ok(()),
        }
    }

    /// No way past a stop caution: not by volunteering, not by a script.
    fn check_cautions(&self, event: &Event) -> Result<(), Refusal> {
        let cautions: &[CautionId] = match event {
            Event::Answered { question, .. } => match self.handbook.find_question(question) {
                Some(id) => &self.handbook.question(id).cautions,
                None => &[],
            },
            Event::Acted { action, .. } => match self.handbook.find_action(action) {
                Some(id) => &self.handbook.action(id).cautions,
                None => &[],
            },
            Event::TakenBack { order } | Event::Corrected { answer: order, .. } => {
                let standing = Standing::of(self.handbook, &self.events);
                let stands = standing.events.get(*order).is_some_and(Option::is_some);
                let is_corrected = matches!(event, Event::Corrected { .. });
                let is_free = is_corrected && standing.gaps.iter().any(|gap| gap.order == *order);
                let is_there = stands || is_free;
                return if is_there { Ok(()) } else { Err(Refusal::NothingThere(*order)) };
            }
            _ => &[],
        };
        match cautions.iter().find(|&&id| self.is_barred_by(id)) {
            Some(&caution) => Err(Refusal::NeedsAcknowledgement(caution)),
            None => Ok(()),
        }
    }

    /// Whether a caution keeps the case from going on: a stop that nobody has acknowledged.
    #[must_use]
    pub fn is_barred_by(&self, id: CautionId) -> bool {
        let caution = self.handbook.caution(id);
        caution.severity == CautionSeverity::Stop && !self.is_acknowledged(id)
    }

    /// Whether somebody has acknowledged a caution in this case.
    #[must_use]
    pub fn is_acknowledged(&self, id: CautionId) -> bool {
        let wanted = &self.handbook.caution(id).id;
        self.events
            .iter()
            .any(|event| matches!(event, Event::Acknowledged { caution, .. } if caution == wanted))
    }

    /// What is wanted next.
    #[must_use]
    pub fn now(&self) -> &Now {
        &self.now.walk.now
    }

    /// Which time it is that the step that is wanted comes, and at most how often it may; none
    /// for a step without such a limit.
    #[must_use]
    pub fn times_here(&self) -> Option<(u32, u32)> {
        self.now.walk.times
    }

    /// The steps passed so far.
    #[must_use]
    pub fn path(&self) -> &[Passed] {
        &self.now.walk.path
    }

    /// Where each step passed so far led.
    #[must_use]
    pub fn branches(&self) -> &[(Place, Target)] {
        &self.now.walk.branches
    }

    /// The same with what was known each time, in order.
    #[must_use]
    pub fn decided(&self) -> &[Decided] {
        &self.now.walk.decided
    }

    /// A worksheet over what was known when it was decided where a step leads.
    #[must_use]
    pub fn worksheet_at(&self, decided: &Decided) -> Worksheet<'_> {
        let record = &self.now.walk.record;
        let until = decided.known_until;
        Worksheet::as_of(self.handbook, record, &self.streams, until).at_a_step()
    }

    /// The rounds that have come to their end, in order.
    #[must_use]
    pub fn round_ends(&self) -> &[RoundEnd] {
        &self.now.walk.round_ends
    }

    /// The plans that the work has gone on from, and how it was left, in order, as it stood then.
    #[must_use]
    pub fn plans(&self) -> &[(Closes, Line)] {
        &self.now.walk.plans
    }

    /// What a round found before its first repair, or before one that was passed over; nothing
    /// where none was proposed in it.
    #[must_use]
    pub fn found_before_repair(&self, round: &RoundEnd) -> Vec<Line> {
        let whole = round.from..=round.until;
        let done = self.now.walk.record.done.iter().map(|(_, order)| *order);
        let done = done.into_iter().find(|order| whole.contains(order));
        let Some(deed) = done.or(round.left_at) else { return Vec::new() };
        let sheet = self.worksheet();
        let then = sheet.before_deed(deed);
        let observed_here =
            |id: &FindingId| then.last_observed(*id).is_some_and(|at| whole.contains(&at));
        let judged =
            self.handbook.finding_ids().filter(observed_here).map(|id| (id, then.finding(id)));
        let is_true = |(_, judged): &(_, Judged)| matches!(judged.state, FindingState::True(_));
        judged.filter(is_true).map(|(id, _)| then.says(id).text).collect()
    }

    /// What the answers amount to.
    #[must_use]
    pub fn assessment(&self) -> &Assessment {
        self.now.assessment(self.engine, &self.worksheet())
    }

    /// What speaks for each explanation and against it, strongest first; worked out once for what
    /// has happened so far.
    #[must_use]
    pub fn reasons(&self) -> &Reasons {
        self.now.reasons(self.engine, &self.worksheet())
    }

    /// What a witness of the assessment says, in words.
    #[must_use]
    pub fn says(&self, witness: &Witness) -> Saying {
        self.worksheet().witness_says(witness)
    }

    /// What a finding says as it stands, in words.
    #[must_use]
    pub fn finding_says(&self, id: FindingId) -> Saying {
        self.says(&self.assessment().witnesses[id.index()])
    }

    /// Checks worth making now, best first; worked out each time.
    #[must_use]
    pub fn checks_left(&self) -> Vec<NextCheck> {
        let sheet = self.worksheet();
        checks_left(self.engine, &sheet, self.now.weighed(self.engine, &sheet))
    }

    /// What answers to these questions would tell, were they given now; worked out each time.
    #[must_use]
    pub fn worth_of(&self, questions: &[QuestionId]) -> Worth {
        let sheet = self.worksheet();
        worth_of(self.engine, &sheet, self.now.weighed(self.engine, &sheet), questions)
    }

    /// What stands behind the verdict; worked out once for what has happened so far.
    #[must_use]
    pub fn insight(&self) -> Insight {
        self.now.insight(self.engine, &self.worksheet()).clone()
    }

    /// How a cause came to be as likely as it is; none where the evidence contradicts itself.
    #[must_use]
    pub fn account(&self, cause: CauseId) -> Option<Account> {
        account(self.now.weighed(self.engine, &self.worksheet()), cause)
    }

    /// The facts.
    #[must_use]
    pub fn record(&self) -> &Record {
        &self.now.walk.record
    }

    /// The events, in order.
    #[must_use]
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// The handbook that judges it.
    #[must_use]
    pub fn handbook(&self) -> &'h Handbook {
        self.handbook
    }

    /// The tree it was opened at.
    #[must_use]
    pub fn tree(&self) -> TreeId {
        self.start.tree
    }

    /// A worksheet over all its facts.
    #[must_use]
    pub fn worksheet(&self) -> Worksheet<'_> {
        self.sheet_of(&self.now)
    }

    fn sheet_of<'a>(&'a self, moment: &'a Moment) -> Worksheet<'a> {
        let Walk { record, cells, .. } = &moment.walk;
        Worksheet::kept(self.handbook, record, &self.streams, usize::MAX, cells)
    }

    /// The answers of a question that stand, in order.
    pub fn answers(&self, question: QuestionId) -> impl Iterator<Item = &Given> {
        self.now.walk.record.answers(question).map(|(_, given)| given)
    }

    /// The latest answer of a question.
    #[must_use]
    pub fn latest_answer(&self, question: QuestionId) -> Option<&Given> {
        self.answers(question).last()
    }
}

fn no_such(what: &'static str, id: &str) -> Refusal {
    Refusal::NoSuch { what, id: id.to_owned() }
}

fn walk_events(
    handbook: &Handbook,
    streams: &Streams,
    start: Start,
    events: &[Event],
    earlier: Option<&Walk>,
) -> Walk {
    walk(handbook, streams, start, &Standing::of(handbook, events), earlier)
}
