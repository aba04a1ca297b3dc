//! What was seen, told to the assistant as answers, and weighed before it is known.

use super::act::AtJoints;
use super::exercise::{Exercise, MINUTE};
use super::leading::{at_first, verdict};
use super::stretch::{Leg, LegKind, TestOf};
use crate::case::{CauseId, Event, QuestionId, Worth};
use crate::rehearsal::rigged::{Answering, Look, Said};

/// Who acknowledges what the assistant would ask to be acknowledged.
const WHO: &str = "whoever practises";
/// Bits and shifts of a probability below these tell nothing (limits of ours).
const TELLS_FROM: (f64, f64) = (0.005, 0.02);

impl Exercise<'_> {
    /// What is known before anything is done: the story, plates, leaflets.
    pub(super) fn tell_what_is_known(&mut self) {
        for id in self.ground.handbook.question_ids() {
            self.tell_if_known(id);
        }
    }

    /// Answers what is known without a look at the rig.
    fn tell_if_known(&mut self, id: QuestionId) {
        let said = match self.ground.mapping.question(id) {
            Some(Answering::Says(text)) => Some(Said::Typed(text.clone())),
            Some(Answering::Look(Look::Symptom)) => Some(Said::Typed(self.dealt.symptom.clone())),
            Some(Answering::Look(look)) if !has_to_be_seen(*look) => self.hand.of_the_kit(*look),
            _ => None,
        };
        if let Some(Said::Typed(text)) = said {
            self.tell(id, &text);
        }
    }

    /// Answers a question, in the place of an answer that was given since anything was changed.
    fn tell(&mut self, id: QuestionId, typed: &str) {
        let earlier = self.notes.orders.get(&id).cloned();
        if earlier.as_ref().is_some_and(|(_, before)| before == typed) {
            return;
        }
        let question = self.ground.handbook.question(id);
        for caution in &question.cautions {
            self.acknowledge(*caution);
        }
        let Ok(read) = self.case.read(id, typed) else {
            self.unread.push(format!("{}: {typed}", question.id));
            return;
        };
        let (reply, bare_in) = (read.reply, read.bare_in);
        let event = match earlier {
            Some((answer, _)) => Event::Corrected { answer, typed: read.echo, reply, bare_in },
            None => {
                let question = question.id.clone();
                Event::Answered { question, typed: read.echo, reply, bare_in }
            }
        };
        let order = earlier.map_or(self.case.events().len(), |(order, _)| order);
        if self.case.apply(event).is_ok() {
            self.notes.orders.insert(id, (order, typed.to_owned()));
        }
    }

    fn acknowledge(&mut self, caution: crate::handbook::CautionId) {
        if self.case.is_barred_by(caution) {
            let caution = self.ground.handbook.caution(caution).id.clone();
            // An acknowledgement is never refused.
            let _ = self.case.apply(Event::Acknowledged { caution, by: WHO.to_owned() });
        }
    }

    /// Notes what a test showed: answers by the ids of their questions.
    pub(super) fn note(&mut self, test: TestOf, told: &[(&str, String)], shown: &str) {
        let handbook = &self.ground.handbook;
        let find =
            |(id, typed): &(&str, String)| Some((handbook.find_question(id)?, typed.clone()));
        let told: Vec<(QuestionId, String)> = told.iter().filter_map(find).collect();
        // What it is worth is asked once, before anything of it is known.
        let going_on = self.notes.leg.filter(|leg| self.is_of(*leg, test));
        let worth = match going_on {
            Some(_) => Worth::default(),
            None => self.worth_of(test, &told),
        };
        let before = self.held();
        for (id, typed) in &told {
            self.tell(*id, typed);
        }
        self.keep_as_leg((test, going_on), worth, before, shown);
    }

    fn is_of(&self, leg: usize, test: TestOf) -> bool {
        self.legs.get(leg).is_some_and(|leg| leg.kind == LegKind::Test(test))
    }

    /// What a test would tell that shows all that it can, beside what it tells already.
    fn worth_of(&self, test: TestOf, told: &[(QuestionId, String)]) -> Worth {
        let find = |id: &&str| self.ground.handbook.find_question(id);
        let mut asked: Vec<QuestionId> = test.shows().iter().filter_map(find).collect();
        asked.extend(told.iter().map(|(id, _)| *id));
        self.case.worth_of(&asked)
    }

    /// Adds what was noted to the leg that goes on, or begins one.
    fn keep_as_leg(
        &mut self,
        (test, going_on): (TestOf, Option<usize>),
        worth: Worth,
        before: Vec<f64>,
        shown: &str,
    ) {
        let minutes = self.take_minutes();
        let (held, lead) = (self.held(), self.lead());
        let place = going_on.unwrap_or_else(|| {
            let leg = Leg {
                told: before.clone(),
                before,
                bits: worth.bits,
                lacks: worth.lacks,
                ..self.new_leg(LegKind::Test(test))
            };
            self.legs.push(leg);
            self.legs.len() - 1
        });
        let leg = &mut self.legs[place];
        let moves = moved(&leg.told, &held) > TELLS_FROM.1;
        let begins = going_on.is_none() && leg.bits > TELLS_FROM.0;
        leg.minutes += minutes;
        leg.has_told = leg.bits > TELLS_FROM.0 || moved(&leg.before, &held) > TELLS_FROM.1;
        leg.idle = if moves || begins { 0.0 } else { leg.idle + minutes };
        if moves {
            leg.told = held;
        }
        shown.clone_into(&mut leg.shown);
        leg.lead = lead;
        if self.reads() == Some(test) {
            self.notes.leg = Some(place);
        }
    }

    /// The minutes that belong to no leg yet.
    fn take_minutes(&mut self) -> f64 {
        let minutes = (self.session().clock() - self.accounted) / MINUTE;
        self.accounted = self.session().clock();
        minutes
    }

    pub(super) fn new_leg(&self, kind: LegKind) -> Leg {
        Leg {
            kind,
            minutes: 0.0,
            idle: 0.0,
            bits: 0.0,
            has_told: false,
            lacks: Vec::new(),
            shown: String::new(),
            before: self.held(),
            told: Vec::new(),
            lead: self.lead(),
        }
    }

    /// How probable each cause is held to have been at first, by what was seen.
    fn held(&self) -> Vec<f64> {
        at_first(&self.case).0
    }

    fn lead(&self) -> (Option<CauseId>, f64) {
        verdict(&self.case).first().copied().unwrap_or((None, 0.0))
    }

    /// Notes a repair by the id of its action.
    pub(super) fn repaired(&mut self, action: &str) {
        let Some(id) = self.ground.handbook.find_action(action) else { return };
        let before = self.held();
        for caution in &self.ground.handbook.action(id).cautions {
            self.acknowledge(*caution);
        }
        let (tree, step) = (String::new(), String::new());
        // What it was made at stands in the record of the rig; a repair is never refused.
        let _ = self.case.apply(Event::Acted { action: action.to_owned(), tree, step });
        // What is known of the new thing without a look, such as its leaflet.
        for outdated in &self.ground.handbook.action(id).outdates {
            self.tell_if_known(*outdated);
        }
        let minutes = self.take_minutes();
        let leg = Leg { minutes, before, ..self.new_leg(LegKind::Repair(id)) };
        self.legs.push(leg);
        self.notes.leg = None;
    }

    /// Notes what the gauge showed last, as everything stands.
    pub(super) fn note_reading(&mut self, shown: &str) {
        let Some(test) = self.reads() else { return };
        let shown = shown.to_owned();
        let mut told: Vec<(&str, String)> = Vec::new();
        if self.notes.has_stood_in_air && self.last_pressure().is_some() {
            self.notes.has_stood_in_air = false;
            told.push(("gauge_moves", "yes".to_owned()));
        }
        match test {
            TestOf::Pump => self.of_pump(&shown, &mut told),
            TestOf::Part(part) => {
                let name = if part == AtJoints::Tool { "tool" } else { "hose" };
                told.push(("part", name.to_owned()));
                told.push(("part_reading", shown.clone()));
            }
            TestOf::Rig => told.push(("rig_reading", shown.clone())),
            TestOf::System => {
                told.push(("stall_reading", shown.clone()));
                told.push(("stall_minutes", minutes(self.stood())));
                told.push(("time_taken", minutes(self.notes.pulled.max(MINUTE))));
            }
            TestOf::Hold | TestOf::OtherRise => return self.note_rise(test, &shown),
            TestOf::ShutOff => return self.note_shut_off(&shown),
            _ => {}
        }
        let falls = self.still_falls();
        if let Some(falls) = falls {
            told.push(("still_falling", if falls { "yes" } else { "no" }.to_owned()));
        }
        let still = if falls == Some(true) { ", still falling" } else { "" };
        self.note(test, &told, &format!("{shown}{still}"));
    }

    fn of_pump(&self, shown: &str, told: &mut Vec<(&'static str, String)>) {
        told.push(("pump_is_capped", "yes".to_owned()));
        told.push(("pump_minutes", minutes(self.hand.runs_for())));
        told.push(("blank_off", shown.to_owned()));
        let is_open = self.session().configuration().pump.is_ballast_open;
        if self.notes.ballast_was_open && !is_open {
            told.push(("ballast_shut_reading", shown.to_owned()));
        }
    }

    fn last_pressure(&self) -> Option<f64> {
        self.notes.log.last().and_then(|(_, reading)| reading.pressure())
    }
}

/// What is known only once somebody has looked, although nothing at the rig has to be done.
fn has_to_be_seen(look: Look) -> bool {
    matches!(
        look,
        Look::Ballast
            | Look::PumpMinutes
            | Look::Coldest
            | Look::PullMinutes
            | Look::PartVolume
            | Look::ValveShut
    )
}

/// By how much the cause moved that moved most.
fn moved(before: &[f64], after: &[f64]) -> f64 {
    before.iter().zip(after).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

/// A time in s in whole minutes.
pub(super) fn minutes(seconds: f64) -> String {
    format!("{:.0} min", libm::round(seconds / MINUTE))
}
