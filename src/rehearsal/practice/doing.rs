//! Each act, done at the rig.

use super::act::{Act, AtJoints, called};
use super::exercise::{Between, Exercise};
use super::stretch::TestOf;
use crate::bench::hookup::{GaugePlace, Hookup};
use crate::bench::operation::{Operation, Refusal};
use crate::bench::rig::Valve;
use crate::text::{Line, capital};

impl Exercise<'_> {
    pub(super) fn do_act(&mut self, act: Act) -> Result<Vec<Line>, Refusal> {
        match act {
            Act::Read => self.read(),
            Act::Pull(time) => self.pull(time),
            Act::Wait(time) => self.wait(time),
            Act::Lock => self.simply(Operation::LockOut, "The compressor is locked out."),
            Act::Open(valve) => self.open(valve),
            Act::Shut(valve) => self.shut(valve),
            Act::Halt => self.halt(),
            Act::Cap | Act::Line(_) | Act::Rig | Act::System | Act::TakeOff | Act::Vent => {
                self.put_together(act)
            }
            Act::LookAtBallast | Act::OpenBallast | Act::ShutBallast => self.ballast(act),
            Act::Press(_) | Act::ReadNitrogen | Act::Bubbles(_) | Act::Release => {
                self.nitrogen(act)
            }
            Act::Change(_)
            | Act::WarmPump
            | Act::CleanGauge
            | Act::Remake(_)
            | Act::Mend(_)
            | Act::TakeCoreOut
            | Act::WideHoses
            | Act::Sweep(_) => self.mend(act),
            _ => self.look(act),
        }
    }

    pub(super) fn simply(
        &mut self,
        operation: Operation,
        told: &str,
    ) -> Result<Vec<Line>, Refusal> {
        self.perform(operation)?;
        Ok(vec![Line::plain(told)])
    }

    fn put_together(&mut self, act: Act) -> Result<Vec<Line>, Refusal> {
        let (operation, told) = match act {
            Act::Cap => (Operation::CapPump, "The pump is capped, with only the gauge on it."),
            Act::Line(AtJoints::Tool) => {
                (Operation::PutInLine(1), "The core tool stands between pump and gauge.")
            }
            Act::Line(_) => (Operation::PutInLine(0), "The hose stands between pump and gauge."),
            Act::Rig => {
                (Operation::ConnectRig, "Hose and tool are on the pump, capped at their far end.")
            }
            Act::System => (
                Operation::ConnectSystem(GaugePlace::System),
                "The rig is on the system, its valve shut, the gauge on the system.",
            ),
            Act::TakeOff => (Operation::Disconnect, "The rig is off the system."),
            _ => (Operation::VentRig, "The rig is vented, the pump off."),
        };
        let lines = self.simply(operation, told)?;
        self.change_something();
        self.end_rising();
        self.notes.part = match act {
            Act::Line(part) => Some(part),
            _ => None,
        };
        Ok(lines)
    }

    fn open(&mut self, valve: Valve) -> Result<Vec<Line>, Refusal> {
        let goes_on = self.is_behind_the_hold(valve);
        self.perform(Operation::Open(valve))?;
        if !goes_on {
            self.change_something();
            self.end_rising();
        }
        Ok(vec![Line::plain(format!("The valve at the {} is open.", called(valve)))])
    }

    fn shut(&mut self, valve: Valve) -> Result<Vec<Line>, Refusal> {
        let goes_on = self.is_behind_the_hold(valve);
        self.perform(Operation::Shut(valve))?;
        let said = format!("The valve at the {} is shut.", called(valve));
        if goes_on {
            return Ok(vec![Line::plain(said)]);
        }
        self.change_something();
        self.begin_rising(said)
    }

    /// Whether a valve is the one at the pump, with the system shut off from it: a hold goes on
    /// whatever is done there.
    fn is_behind_the_hold(&self, valve: Valve) -> bool {
        valve == Valve::Pump && self.reads() == Some(TestOf::Hold)
    }

    fn halt(&mut self) -> Result<Vec<Line>, Refusal> {
        self.perform(Operation::StopPump)?;
        // Behind a valve that is shut already, a rise goes on.
        if self.notes.rising.is_some() {
            return Ok(vec![Line::plain("The pump is off.")]);
        }
        self.change_something();
        self.begin_rising("The pump is off.".to_owned())
    }

    fn ballast(&mut self, act: Act) -> Result<Vec<Line>, Refusal> {
        let was_open = self.session().configuration().pump.is_ballast_open;
        let word = |is_open: bool| if is_open { "open" } else { "shut" };
        let takes = match act {
            Act::OpenBallast => Operation::OpenBallast,
            Act::ShutBallast => Operation::ShutBallast,
            // A look takes as long as a turn.
            _ => Operation::Wait(15.0),
        };
        self.perform(takes)?;
        let mut said = format!("The gas ballast stood {}.", word(was_open));
        self.told_of_ballast(was_open);
        self.notes.ballast_was_open |= was_open;
        let is_open = self.session().configuration().pump.is_ballast_open;
        if is_open != was_open {
            said = format!("{said} Now it is {}.", word(is_open));
            self.change_something();
            if was_open {
                self.repaired("shut_ballast");
            }
            self.told_of_ballast(is_open);
        }
        Ok(vec![Line::plain(said)])
    }

    fn told_of_ballast(&mut self, is_open: bool) {
        let word = if is_open { "open" } else { "shut" };
        self.note(TestOf::Ballast, &[("ballast_state", word.to_owned())], word);
    }

    /// What is not the same any more: readings from before tell of something else.
    pub(super) fn change_something(&mut self) {
        self.notes.log.clear();
        self.notes.orders.clear();
        self.notes.leg = None;
        self.notes.warmed = None;
    }

    /// What lies between two holds; what says most about it is kept.
    pub(super) fn since_hold(&mut self, what: Between) {
        let weight = |between: Between| match between {
            Between::Nothing => 0,
            Between::PumpedOn => 1,
            Between::Warmed => 2,
            Between::Swept => 3,
            Between::OtherRig => 4,
        };
        if weight(what) > weight(self.notes.between) {
            self.notes.between = what;
        }
    }

    /// How everything is put together and set, as a sentence.
    #[must_use]
    pub fn standing(&self) -> String {
        let set = self.session().configuration();
        let hookup = match set.hookup {
            Hookup::PumpCapped => "the pump stands capped, with only the gauge on it",
            Hookup::PartCapped(1) => "the core tool stands between pump and gauge",
            Hookup::PartCapped(_) => "the hose stands between pump and gauge",
            Hookup::RigCapped => "hose and tool are on the pump, without the system",
            Hookup::System => "the rig is on the system",
        };
        let word = |is_open: bool| if is_open { "open" } else { "shut" };
        let pump = if set.pump.is_running { "runs" } else { "is off" };
        let valves = format!(
            "valve at the pump {}, at the system {}",
            word(set.are_open[Valve::Pump as usize]),
            word(set.are_open[Valve::System as usize])
        );
        let nitrogen = match self.notes.standing_since {
            Some(_) => " Nitrogen stands in the system.",
            None => "",
        };
        capital(&format!("{hookup}; {valves}; the pump {pump}.{nitrogen}"))
    }
}
