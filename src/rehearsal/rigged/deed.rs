//! What somebody at a simulated rig can be told to do, each by its name in the mapping.

macro_rules! deeds {
    ($($(#[doc = $doc:literal])+ $name:ident = $word:literal;)*) => {
        /// Something that is done at a rig.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Deed {
            $($(#[doc = $doc])+ $name,)*
        }

        impl Deed {
            /// Every deed.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Its name in the mapping.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$name => $word,)* }
            }
        }
    };
}

deeds! {
    /// Nothing but what the words say, which changes nothing at the rig.
    Nothing = "nothing";
    /// The pump is capped with the gauge on it.
    CapPump = "cap_pump";
    /// The capped pump runs.
    RunCapped = "run_capped";
    /// The part that is judged is put in line, and the pump runs.
    FitPart = "fit_part";
    /// All parts are put on the pump without the system, and it runs.
    FitRig = "fit_rig";
    /// The rig is put on the system and pulls until the reading stands.
    PullOnSystem = "pull_on_system";
    /// The valve at the system is shut with the pump running, and a hold begins.
    ShutSystem = "shut_system";
    /// The system is pumped below where the hold before began and shut in the same way.
    HoldAsBefore = "hold_as_before";
    /// The valve at the system is shut, and the pump goes on pulling on the rig.
    ShutSystemOff = "shut_system_off";
    /// The valve at the system is opened to the running pump.
    OpenSystem = "open_system";
    /// The pump is stopped behind the shut valve.
    StopPump = "stop_pump";
    /// The valve between pump and part is shut.
    ShutPartOff = "shut_part_off";
    /// The gas ballast is shut.
    ShutBallast = "shut_ballast";
    /// The oil is changed.
    ChangeOil = "change_oil";
    /// The capped pump runs hot with its ballast open, which is shut afterwards.
    DryOil = "dry_oil";
    /// The capped pump runs until it is warm.
    WarmPump = "warm_pump";
    /// The gauge is cleaned.
    CleanGauge = "clean_gauge";
    /// Another gauge is taken.
    ChangeGauge = "change_gauge";
    /// The joints of the part that is judged are made anew, or those of the whole rig.
    RemakeJoints = "remake_joints";
    /// A sound part takes the place of the one that is judged.
    ReplacePart = "replace_part";
    /// Other parts take the place of all.
    ChangeRig = "change_rig";
    /// The parts are pumped on without the system.
    DryRig = "dry_rig";
    /// The core is taken out, and wide hoses are put on.
    OpenPath = "open_path";
    /// The system is warmed and pumped with the ballast open.
    DrySystem = "dry_system";
    /// It is pumped on for as long as before.
    PumpLonger = "pump_longer";
    /// The vacuum is broken with dry nitrogen, and it is pumped again.
    Sweep = "sweep";
    /// A spot of the system is warmed.
    WarmSpot = "warm_spot";
    /// Rig and gauge come off, and the system is pressed with nitrogen.
    Press = "press";
    /// The nitrogen is let off.
    LetNitrogenOff = "let_nitrogen_off";
    /// The joint that bubbles is made good with the pressure let off.
    MendJoint = "mend_joint";
    /// Every leak of the system is looked for under nitrogen and mended.
    MendLeaks = "mend_leaks";
    /// The temperature is waited for.
    WaitForSteady = "wait_for_steady";
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_deed_has_a_name_of_its_own() {
        let words: BTreeSet<&str> = Deed::ALL.iter().map(|deed| deed.word()).collect();
        assert_eq!(words.len(), Deed::ALL.len());
    }
}
