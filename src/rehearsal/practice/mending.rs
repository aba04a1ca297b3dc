//! What may mend something.

use super::act::{Act, AtJoints, Changed};
use super::exercise::{Between, Exercise};
use crate::bench::operation::{Operation, Refusal};
use crate::text::Line;

/// How wide the hoses are in m that a narrow way is changed for: 3/8 in (common practice).
const WIDE_BORE: f64 = 9.5e-3;
/// The absolute pressure in Pa to which a sweep breaks the vacuum.
const SWEPT_TO: f64 = 101_325.0;

/// A pump that is stopped under vacuum loses its oil into the hose.
const OIL_CHANGED: &str = "The pump was stopped, its inlet vented at once, and the oil drained and \
                           refilled. Fresh oil is in the pump, which is off.";

impl Exercise<'_> {
    pub(super) fn mend(&mut self, act: Act) -> Result<Vec<Line>, Refusal> {
        let (operation, action, said) = match act {
            Act::Change(Changed::Oil) => (Operation::ChangeOil, "change_oil", OIL_CHANGED),
            Act::Change(Changed::Gauge) => {
                (Operation::SwapGauge, "replace_gauge", "Another gauge is in its place.")
            }
            Act::Change(Changed::Hose) => {
                (Operation::ReplacePart(0), "replace_part", "A sound hose is in its place.")
            }
            Act::Change(Changed::Tool) => {
                (Operation::ReplacePart(1), "replace_part", "A sound core tool is in its place.")
            }
            Act::Change(Changed::Rig) => {
                (Operation::SwapRig, "change_rig", "Hose and core tool are others now.")
            }
            Act::WarmPump => (
                Operation::WarmPump,
                "warm_pump",
                "The pump stands in the warm on a short heavy lead, and is off.",
            ),
            Act::CleanGauge => {
                (Operation::CleanGauge, "clean_gauge", "The gauge is clean and dry.")
            }
            Act::Remake(place) => (
                Operation::RemakeJoints(place.place()),
                "remake_joints",
                "The joints are made anew.",
            ),
            Act::Mend(section) => (
                Operation::MendLeaks(section.place()),
                "mend_joint",
                "The joints there are made good.",
            ),
            Act::TakeCoreOut => (Operation::TakeCoreOut, "open_path", "No valve core is in."),
            Act::WideHoses => {
                (Operation::UseWideHoses(WIDE_BORE), "open_path", "The hose is a wide one.")
            }
            Act::Sweep(dwell) => (
                Operation::Sweep { to: SWEPT_TO, dwell },
                "sweep_nitrogen",
                "The vacuum was broken with dry nitrogen. The pump is off, its valve shut.",
            ),
            _ => return Err(Refusal::NotThere),
        };
        if matches!(act, Act::CleanGauge | Act::Change(Changed::Gauge)) {
            // The gauge comes off what is vented.
            self.perform(Operation::VentRig)?;
        }
        self.perform(operation)?;
        self.change_something();
        self.end_rising();
        self.after(act);
        self.repaired(action);
        Ok(vec![Line::plain(said)])
    }

    fn after(&mut self, act: Act) {
        match act {
            Act::Sweep(_) => {
                self.notes.pulled = 0.0;
                self.since_hold(Between::Swept);
            }
            Act::TakeCoreOut | Act::WideHoses => self.notes.pulled = 0.0,
            Act::Change(Changed::Rig | Changed::Hose | Changed::Tool)
            | Act::Remake(AtJoints::Hose | AtJoints::Tool) => self.since_hold(Between::OtherRig),
            _ => {}
        }
    }
}
