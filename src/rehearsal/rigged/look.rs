//! The looks that somebody at a simulated rig can take, each by its name in the mapping.

/// What kind of answer a look gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gives {
    /// A number of the kind with this name.
    Number(&'static str),
    /// Yes or no.
    YesNo,
    /// One of these choices.
    OneOf(&'static [&'static str]),
    /// Words.
    Words,
    /// The readings of a hold.
    Readings,
}

macro_rules! looks {
    ($($(#[doc = $doc:literal])+ $name:ident = $word:literal, $gives:expr;)*) => {
        /// Something that is looked at, measured or known at a rig.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Look {
            $($(#[doc = $doc])+ $name,)*
        }

        impl Look {
            /// Every look.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Its name in the mapping.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$name => $word,)* }
            }

            /// What kind of answer it gives.
            #[must_use]
            pub fn gives(self) -> Gives {
                match self { $(Self::$name => $gives,)* }
            }
        }
    };
}

const FACES: Gives =
    Gives::OneOf(&["shows_micron", "shows_torr", "shows_mbar", "shows_pascal", "shows_kilopascal"]);

looks! {
    /// What is seen first: does it come down far enough, and does it stay there?
    Symptom = "symptom", Gives::OneOf(&["none", "rises", "slow", "wont_pull_below"]);
    /// The vacuum that the job asks for.
    Target = "target", Gives::Number("pressure");
    /// What the pump's plate says of its lowest pressure.
    PumpRating = "pump_rating", Gives::Number("pressure");
    /// What the pump's plate says of its speed.
    PumpSpeed = "pump_speed", Gives::Number("flow");
    /// How much space the system is said to have.
    SystemVolume = "system_volume", Gives::Number("volume");
    /// How wide the hose is said to be.
    HoseBore = "hose_bore", Gives::Number("length");
    /// How long the hose is said to be.
    HoseLength = "hose_length", Gives::Number("length");
    /// How much space the part has that was shut off.
    PartVolume = "part_volume", Gives::Number("volume");
    /// Whether the valve core is in.
    CoresIn = "cores_in", Gives::YesNo;
    /// Whether core tools and a wider hose are at hand.
    WiderWay = "wider_way", Gives::YesNo;
    /// Whether fresh oil is at hand.
    FreshOil = "fresh_oil", Gives::YesNo;
    /// The unit on the gauge's face.
    GaugeUnit = "gauge_unit", FACES;
    /// The share of the reading that the gauge may be off.
    GaugeScale = "gauge_scale", Gives::Number("ratio");
    /// What the gauge may be off besides.
    GaugeOffset = "gauge_offset", Gives::Number("pressure difference");
    /// The smallest step that the gauge shows.
    GaugeStep = "gauge_step", Gives::Number("pressure difference");
    /// Where the gauge sits while the system is connected.
    GaugePlace = "gauge_place", Gives::OneOf(&["system_near", "pump", "manifold"]);
    /// Whether a second gauge is at hand.
    SecondGauge = "second_gauge", Gives::YesNo;
    /// The unit on the second gauge's face.
    SecondUnit = "second_unit", FACES;
    /// The share of the reading that the second gauge may be off.
    SecondScale = "second_scale", Gives::Number("ratio");
    /// What the second gauge may be off besides.
    SecondOffset = "second_offset", Gives::Number("pressure difference");
    /// Whether the gauge finds the air's pressure.
    GaugeInAir = "gauge_in_air", Gives::YesNo;
    /// Whether the gauge moves between the air and the pump.
    GaugeMoves = "gauge_moves", Gives::YesNo;
    /// The gauge in use, on a tee with the second one at the capped pump.
    TeeFirst = "tee_first", Gives::Number("pressure");
    /// The second gauge on that tee.
    TeeSecond = "tee_second", Gives::Number("pressure");
    /// Whether only the gauge is on the pump.
    PumpIsCapped = "pump_is_capped", Gives::YesNo;
    /// For how long the pump has been running.
    PumpMinutes = "pump_minutes", Gives::Number("time");
    /// Whether the pump starts hard.
    PumpLabours = "pump_labours", Gives::YesNo;
    /// What the oil looks like.
    OilLook = "oil_look", Gives::OneOf(&["clear", "low", "dark", "cloudy"]);
    /// How long the oil has run.
    OilHours = "oil_hours", Gives::Number("time");
    /// Whether mist keeps coming.
    OilMist = "oil_mist", Gives::YesNo;
    /// How the gas ballast stands.
    Ballast = "ballast", Gives::OneOf(&["shut", "open"]);
    /// Whether covering the ballast's inlet brings the reading down.
    BallastCover = "ballast_cover", Gives::YesNo;
    /// The pump alone, as it is set.
    BarePump = "bare_pump", Gives::Number("pressure");
    /// Whether the reading still falls.
    StillFalling = "still_falling", Gives::YesNo;
    /// The next part to judge.
    NextPart = "next_part", Gives::Words;
    /// The part in line.
    PartReading = "part_reading", Gives::Number("pressure");
    /// Whether the reading jumps when fittings are touched.
    Touched = "touched", Gives::YesNo;
    /// All parts on the pump, without the system.
    RigReading = "rig_reading", Gives::Number("pressure");
    /// The system, with the pump on it.
    SystemReading = "system_reading", Gives::Number("pressure");
    /// For how long it has stood there.
    StoodMinutes = "stood_minutes", Gives::Number("time");
    /// For how long the pump has pulled on the system this way.
    PullMinutes = "pull_minutes", Gives::Number("time");
    /// A second gauge at the pump, with the pump on the system.
    PumpEnd = "pump_end", Gives::Number("pressure");
    /// Which valve was shut, as far as whoever did it knows.
    ValveShut = "valve_shut", Gives::OneOf(&["at_system"]);
    /// The readings of a hold.
    HoldReadings = "hold_readings", Gives::Readings;
    /// How the temperature went during the hold.
    HoldTemperature = "hold_temperature", Gives::OneOf(&["steady", "colder", "warmer"]);
    /// What is to change between two holds.
    BetweenHolds = "between_holds", Gives::OneOf(&["pumped_on", "swept", "other_rig"]);
    /// How fast the last ten minutes of a hold rose.
    HoldRate = "hold_rate", Gives::Number("rise rate");
    /// How cold the coldest spot is.
    Coldest = "coldest", Gives::Number("temperature");
    /// How warm the air is.
    AirTemperature = "air_temperature", Gives::Number("temperature");
    /// The system before a spot is warmed.
    BeforeWarming = "before_warming", Gives::Number("pressure");
    /// How fast the reading climbs by itself before that.
    RateBeforeWarming = "rate_before_warming", Gives::Number("rise rate");
    /// The system with the spot warm.
    AfterWarming = "after_warming", Gives::Number("pressure");
    /// By how much the spot got warmer.
    WarmedBy = "warmed_by", Gives::Number("temperature difference");
    /// How long lies between the two.
    WarmingMinutes = "warming_minutes", Gives::Number("time");
    /// Whether the reading climbs when a spot is warmed.
    FollowsWarming = "follows_warming", Gives::YesNo;
    /// Whether a detector finds refrigerant at the exhaust.
    Exhaust = "exhaust", Gives::YesNo;
    /// Whether the system never held refrigerant.
    NeverCharged = "never_charged", Gives::YesNo;
    /// Whether water had a way in.
    WetHistory = "wet_history", Gives::YesNo;
    /// Whether joints are new.
    NewJoints = "new_joints", Gives::YesNo;
    /// Whether it held nitrogen.
    HeldNitrogen = "held_nitrogen", Gives::YesNo;
    /// What became of the nitrogen test.
    NitrogenTest = "nitrogen_test", Gives::OneOf(&["not_made", "lost"]);
    /// Whether part of the system is cold.
    ColdWeather = "cold_weather", Gives::YesNo;
    /// Whether the gauge has been on oily systems.
    OilyGauge = "oily_gauge", Gives::YesNo;
    /// The pressure that the nameplate allows.
    Nameplate = "nameplate", Gives::Number("gauge pressure");
    /// The pressure of the nitrogen that stands.
    NitrogenPressure = "nitrogen_pressure", Gives::Number("gauge pressure");
    /// The temperature of the pipe while nitrogen stands.
    NitrogenTemperature = "nitrogen_temperature", Gives::Number("temperature");
    /// For how long the nitrogen has stood.
    NitrogenHours = "nitrogen_hours", Gives::Number("time");
    /// Whether it bubbles anywhere.
    Bubbles = "bubbles", Gives::YesNo;
    /// Where it bubbles.
    BubblePlace = "bubble_place", Gives::Words;
    /// A part that was shut off, at first.
    ShutOffFirst = "shut_off_first", Gives::Number("pressure");
    /// The same at the end.
    ShutOffLast = "shut_off_last", Gives::Number("pressure");
    /// How long lies between the two.
    ShutOffMinutes = "shut_off_minutes", Gives::Number("time");
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::formula::Kind;

    #[test]
    fn every_look_has_a_name_of_its_own_and_a_kind_that_is_known() {
        let words: BTreeSet<&str> = Look::ALL.iter().map(|look| look.word()).collect();
        assert_eq!(words.len(), Look::ALL.len());
        for look in Look::ALL {
            if let Gives::Number(kind) = look.gives() {
                assert!(matches!(Kind::named(kind), Some(Kind::Quantity(_))), "{kind}");
            }
        }
    }
}
