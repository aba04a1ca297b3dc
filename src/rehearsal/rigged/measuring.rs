//! The looks that take their time: a hold, warmth, nitrogen, what is seen first.

use super::hand::{Hand, MINUTE};
use super::look::Look;
use super::looking::{RATE, climbs, minutes, tenths_of_degrees};
use super::typed::{Said, rounded};
use crate::bench::gauge::Reading;
use crate::bench::operation::{Operation, Outcome, Refusal};
use crate::bench::rig::Place;

/// How long somebody looks whether it rises, in s.
const LOOKS_AT_RISE: f64 = 10.0 * MINUTE;
/// A rise in that time, as a share of what the job asks for, that is told as a rise. Mark:
/// estimate.
const RISES_BY: f64 = 0.5;

/// A pull that takes longer than this in s to what the job asks for is told as slow. Mark:
/// estimate, for a small split system.
const SLOW_FROM: f64 = 25.0 * MINUTE;

impl Hand {
    /// How long in s it took to what the job asks for.
    fn came_down_in(&self) -> f64 {
        let is_there = |(_, reading): &&(f64, Reading)| {
            reading.pressure().is_some_and(|shown| shown <= self.kit.target)
        };
        let begun = self.log.first().map_or(0.0, |(clock, _)| *clock);
        self.log.iter().find(is_there).map_or(f64::INFINITY, |(clock, _)| clock - begun)
    }

    /// What is seen first: it comes down and stays, rises when it is shut off, stops too high, or
    /// is slow.
    pub(super) fn symptom(&mut self) -> Result<Said, Refusal> {
        if self.symptom.is_none() {
            self.symptom = Some(self.look_at_symptom()?);
        }
        Ok(Said::word(self.symptom.unwrap_or("none")))
    }

    fn look_at_symptom(&mut self) -> Result<&'static str, Refusal> {
        if self.log.is_empty() {
            self.pull_down()?;
        }
        let shown = self.log.last().and_then(|(_, reading)| reading.pressure());
        if shown.is_none_or(|shown| shown > self.kit.target) {
            let stands = shown.is_some() && self.stood() >= 10.0 * MINUTE;
            return Ok(if stands { "wont_pull_below" } else { "slow" });
        }
        if self.came_down_in() > SLOW_FROM {
            return Ok("slow");
        }
        self.shut_for_hold()?;
        self.perform(Operation::Wait(MINUTE))?;
        let before = self.gauge()?;
        self.perform(Operation::Wait(LOOKS_AT_RISE))?;
        let after = self.gauge()?;
        self.open_again()?;
        self.pull(5.0 * MINUTE)?;
        let rises = match (before.pressure(), after.pressure()) {
            (Some(before), Some(after)) => after - before > RISES_BY * self.kit.target,
            _ => true,
        };
        Ok(if rises { "rises" } else { "none" })
    }

    pub(super) fn of_a_hold(&mut self, look: Look) -> Result<Said, Refusal> {
        match look {
            Look::BetweenHolds => {
                self.holds_changed += 1;
                let ways = ["pumped_on", "swept", "other_rig"];
                return Ok(Said::word(ways[(self.holds_changed - 1) % ways.len()]));
            }
            Look::HoldTemperature => {
                let by = self.warmer_in_hold();
                let word = if by > 2.0 {
                    "warmer"
                } else if by < -2.0 {
                    "colder"
                } else {
                    "steady"
                };
                return Ok(Said::word(word));
            }
            Look::HoldRate => return self.hold_rate(),
            _ => {}
        }
        self.read_hold()?;
        let (face, full_scale) = (self.kit.face(), self.session.rig().gauge.full_scale);
        let typed = self.latest_hold().and_then(|hold| hold.typed(&face, full_scale));
        if let Some(hold) = &mut self.hold {
            hold.told = hold.readings.len();
        }
        let unsure = || Said::Unsure("the gauge is over its range".to_owned());
        Ok(typed.map_or_else(unsure, Said::Typed))
    }

    /// How the last ten minutes rose, of a hold that runs or of a new one.
    fn hold_rate(&mut self) -> Result<Said, Refusal> {
        if self.hold.is_none() {
            self.begin_hold()?;
        }
        let planned = self.hold.as_ref().map_or(0.0, |hold| hold.planned);
        self.read_hold_until(planned)?;
        let rate = self.latest_hold().and_then(|hold| hold.last_rate());
        Ok(rate.map_or_else(
            || Said::Unsure("the gauge is over its range".to_owned()),
            |rate| Said::Typed(rounded((rate / RATE.pascal).max(0.1), 3, RATE.symbol)),
        ))
    }

    pub(super) fn of_warmth(&mut self, look: Look) -> Result<Said, Refusal> {
        match look {
            Look::FollowsWarming => {
                self.connect()?;
                let before = self.gauge()?;
                self.warm_spot()?;
                self.pull(10.0 * MINUTE)?;
                let after = self.gauge()?;
                self.cool_spot()?;
                Ok(Said::yes_no(climbs(before, after)))
            }
            Look::BeforeWarming => {
                self.connect()?;
                self.shown()
            }
            Look::RateBeforeWarming => self.rate_while_pumping(),
            Look::AfterWarming => self.shown(),
            _ => self.of_warmed_spot(look),
        }
    }

    fn rate_while_pumping(&mut self) -> Result<Said, Refusal> {
        self.connect()?;
        let before = self.gauge()?;
        self.pull(3.0 * MINUTE)?;
        let after = self.gauge()?;
        Ok(match (before.pressure(), after.pressure()) {
            (Some(before), Some(after)) => {
                let rate = (after - before) / (3.0 * MINUTE);
                Said::Typed(rounded((rate / RATE.pascal).max(0.0), 2, RATE.symbol))
            }
            _ => Said::Unsure("the gauge is over its range".to_owned()),
        })
    }

    fn of_warmed_spot(&mut self, look: Look) -> Result<Said, Refusal> {
        let Some(warmed) = self.warmed else {
            return Ok(Said::Unsure("no spot was warmed".to_owned()));
        };
        if look == Look::WarmedBy {
            let now = self.session.temperature(Place::Section(warmed.section));
            return Ok(Said::Typed(rounded((now - warmed.temperature).max(0.5), 2, "K")));
        }
        let since = self.session.clock() - warmed.clock;
        self.cool_spot()?;
        Ok(Said::Typed(minutes(since)))
    }

    fn cool_spot(&mut self) -> Result<(), Refusal> {
        let Some(warmed) = self.warmed else { return Ok(()) };
        self.perform(Operation::Warm(warmed.section, 0.0)).map(|_| ())
    }

    pub(super) fn of_shut_off(&mut self, look: Look) -> Result<Said, Refusal> {
        match (look, self.shut_off_at) {
            (Look::ShutOffMinutes, Some(at)) => {
                // The first reading came a minute after.
                Ok(Said::Typed(minutes(self.session.clock() - at - MINUTE)))
            }
            (_, None) => Ok(Said::Unsure("no part was shut off".to_owned())),
            _ => self.shown(),
        }
    }

    pub(super) fn of_nitrogen(&mut self, look: Look) -> Result<Said, Refusal> {
        let Some(since) = self.standing_since else {
            return Ok(Said::Unsure("no nitrogen stands in it".to_owned()));
        };
        match look {
            Look::NitrogenHours => {
                Ok(Said::Typed(rounded((self.session.clock() - since) / 3600.0, 3, "h")))
            }
            Look::Bubbles => {
                self.bubbles_at = None;
                for section in 0..self.session.rig().sections.len() {
                    if self.bubbles(section)? {
                        self.bubbles_at = Some(section);
                        break;
                    }
                }
                Ok(Said::yes_no(self.bubbles_at.is_some()))
            }
            Look::BubblePlace => Ok(self.bubbles_at.map_or_else(
                || Said::Unsure("nothing bubbles".to_owned()),
                |section| Said::Typed(format!("section {}", section + 1)),
            )),
            _ => self.standing(look),
        }
    }

    fn standing(&mut self, look: Look) -> Result<Said, Refusal> {
        let standing = self.perform(Operation::ReadStanding)?;
        let Outcome::Standing { pressure, temperature } = standing else {
            return Ok(Said::Unsure("the gauge shows nothing".to_owned()));
        };
        Ok(Said::Typed(match look {
            Look::NitrogenTemperature => tenths_of_degrees(temperature),
            _ => format!("{:.2} barg", pressure / 1e5),
        }))
    }

    /// Whether a section bubbles under nitrogen.
    pub(super) fn bubbles(&mut self, section: usize) -> Result<bool, Refusal> {
        let seen = self.perform(Operation::BubbleTest(Place::Section(section)))?;
        Ok(seen == Outcome::Bubbles(true))
    }
}
