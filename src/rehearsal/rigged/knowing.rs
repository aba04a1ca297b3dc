//! The looks at what is known without touching the rig: plates, leaflets, the past.

use super::hand::{Hand, MINUTE};
use super::kit::FACES;
use super::look::Look;
use super::looking::{FREEZING, degrees, minutes};
use super::typed::{Said, rounded};
use crate::bench::gauge::MICRON;
use crate::bench::hookup::Hookup;

impl Hand {
    /// What is known without touching the rig; nothing for a look that has to be taken there.
    #[must_use]
    pub fn of_the_kit(&self, look: Look) -> Option<Said> {
        let kit = &self.kit;
        let (said, past) = (&kit.said, &kit.past);
        Some(match look {
            Look::Target => Said::Typed(rounded(kit.target / MICRON, 3, "micron")),
            Look::PumpRating => Said::Typed(rounded(kit.rating / MICRON, 2, "micron")),
            Look::PumpSpeed => Said::Typed(rounded(1000.0 * said.rated_speed, 3, "L/s")),
            Look::SystemVolume => Said::Typed(rounded(1000.0 * said.volume, 2, "L")),
            Look::HoseBore => Said::Typed(rounded(1000.0 * self.said_hose().0, 2, "mm")),
            Look::HoseLength => Said::Typed(rounded(self.said_hose().1, 2, "m")),
            Look::PartVolume => Said::Typed(rounded(1e6 * self.shut_off_volume(), 2, "mL")),
            Look::CoresIn => Said::yes_no(said.has_core),
            Look::WiderWay => Said::yes_no(kit.has_wider_way),
            Look::FreshOil => Said::yes_no(true),
            Look::GaugeUnit => Said::word(kit.face().choice),
            Look::SecondUnit => Said::word(FACES[0].choice),
            Look::GaugeScale => Said::Typed(rounded(100.0 * kit.scale, 2, "%")),
            Look::GaugeOffset => Said::Typed(rounded(kit.offset / MICRON, 2, "micron")),
            Look::SecondScale => Said::word("10 %"),
            Look::SecondOffset => Said::word("10 micron"),
            Look::GaugeStep => {
                let step = self.session.rig().gauge.resolution.max(kit.face().step());
                Said::Typed(rounded(step / MICRON, 3, "micron"))
            }
            Look::SecondGauge => Said::yes_no(kit.second.is_some()),
            Look::GaugePlace => Said::word("system_near"),
            Look::PumpLabours => Said::yes_no(kit.labours),
            Look::OilHours => past.oil_age.map_or_else(
                || Said::Unsure("nobody has counted them".to_owned()),
                |age| Said::Typed(rounded(age / 3600.0, 2, "h")),
            ),
            Look::NeverCharged => Said::known(past.never_charged),
            Look::WetHistory => Said::known(past.wet),
            Look::NewJoints => Said::known(past.new_joints),
            Look::HeldNitrogen => Said::known(past.held_nitrogen),
            Look::NitrogenTest => {
                Said::word(if past.held_nitrogen == Some(false) { "lost" } else { "not_made" })
            }
            Look::OilyGauge => Said::known(past.oily_gauge),
            Look::ColdWeather => Said::yes_no(self.session.coldest() < FREEZING + 5.0),
            Look::ValveShut => Said::word("at_system"),
            Look::PumpMinutes => {
                let since = self.pump_since.map_or(0.0, |since| self.session.clock() - since);
                Said::Typed(minutes(since))
            }
            Look::Ballast => {
                let is_open = self.session.configuration().pump.is_ballast_open;
                Said::word(if is_open { "open" } else { "shut" })
            }
            Look::Nameplate => Said::Typed(rounded(self.session.rig().nameplate / 1e5, 2, "barg")),
            // Once the pump stands, what water had cooled warms again.
            Look::Coldest => {
                Said::Typed(degrees(self.coldest.unwrap_or_else(|| self.session.coldest())))
            }
            Look::AirTemperature => Said::Typed(degrees(self.air_temperature())),
            Look::PullMinutes => Said::Typed(minutes(self.pulled.max(MINUTE))),
            _ => return None,
        })
    }

    fn said_hose(&self) -> (f64, f64) {
        let hoses = self.kit.said.parts.iter().filter(|(_, length)| *length > 0.3);
        hoses.copied().next().unwrap_or((9.5e-3, 1.5))
    }

    /// The volume in m³ of what is shut off from the pump.
    fn shut_off_volume(&self) -> f64 {
        let parts = &self.session.rig().parts;
        match self.hookup() {
            Hookup::PartCapped(part) => parts.get(part).map_or(0.0, |part| part.volume()),
            _ => parts.iter().map(|part| part.volume()).sum(),
        }
    }

    fn air_temperature(&self) -> f64 {
        self.session.rig().ambient.temperature_at(self.session.clock())
    }
}
