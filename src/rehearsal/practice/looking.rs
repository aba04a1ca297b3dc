//! Looks that need more than the gauge as it stands.

use super::act::{Act, AtJoints, Section, Spot};
use super::exercise::{Between, Exercise, MINUTE, Warmed};
use super::stretch::TestOf;
use crate::bench::gauge::{MICRON, Reading};
use crate::bench::hookup::Hookup;
use crate::bench::oil;
use crate::bench::operation::{Operation, Outcome, Refusal};
use crate::bench::rig::Place;
use crate::rehearsal::rigged::rounded;
use crate::text::{Line, Role};

/// What 0 °C is in K.
const FREEZING: f64 = 273.15;
/// A jump of a reading that somebody sees: by a fifth and ten micron. Mark: estimate.
const JUMPS_BY: (f64, f64) = (1.2, 10.0 * MICRON);
/// What a detector at the exhaust finds in Pa m³/s of refrigerant. Mark: estimate.
const DETECTED: f64 = 2e-4;
/// A climb with warmth that somebody sees. Mark: estimate.
const CLIMBS_BY: f64 = 1.15;
/// How long it takes in s to hold a detector somewhere, or to feel pipes. Mark: estimate.
const FEELS_FOR: f64 = MINUTE;

impl Exercise<'_> {
    pub(super) fn look(&mut self, act: Act) -> Result<Vec<Line>, Refusal> {
        match act {
            Act::LookAtOil => self.oil(),
            Act::Touch(place) => self.touch(place),
            Act::Feel => self.feel(),
            Act::Second => self.second(),
            Act::InAir => self.in_air(),
            Act::Sniff => self.sniff(),
            Act::Warm(spot, by) => self.warm(spot, by),
            _ => Err(Refusal::NotThere),
        }
    }

    fn oil(&mut self) -> Result<Vec<Line>, Refusal> {
        let Outcome::Oil(look) = self.perform(Operation::LookAtOil)? else {
            return Err(Refusal::NotThere);
        };
        let (word, said) = match look {
            oil::Look::Clear => ("clear", "clear, and at the mark"),
            oil::Look::Dark => ("dark", "dark"),
            oil::Look::Milky => ("cloudy", "milky"),
            oil::Look::Low => ("low", "below the mark"),
        };
        self.note(TestOf::Oil, &[("oil_look", word.to_owned())], said);
        Ok(vec![Line::plain(format!("In the sight glass the oil is {said}."))])
    }

    fn touch(&mut self, place: AtJoints) -> Result<Vec<Line>, Refusal> {
        let touched = self.perform(Operation::Touch(place.place()))?;
        let Outcome::Touched { before, during } = touched else { return Err(Refusal::NotThere) };
        let jumps = match (before.pressure(), during.pressure()) {
            (Some(before), Some(during)) => {
                during > JUMPS_BY.0 * before && during > before + JUMPS_BY.1
            }
            (before, during) => before.is_some() && during.is_none(),
        };
        let [before, during] = [before, during].map(|reading| self.hand.shown_as(reading));
        let yes_no = if jumps { "yes" } else { "no" };
        let said = if jumps { "it jumps" } else { "it stays" };
        // Where the pump pulls on nothing that the gauge sees, no joint shows.
        let is_pulled = matches!(
            self.reads(),
            Some(TestOf::Pump | TestOf::Part(_) | TestOf::Rig | TestOf::System)
        );
        let said = if is_pulled { said } else { "but the pump doesn't pull on it" };
        if is_pulled {
            self.note(TestOf::Touch, &[("changes_when_touched", yes_no.to_owned())], said);
        }
        let line = Line::plain(format!(
            "With the fittings at {} moved the gauge goes from ",
            place.called()
        ))
        .push(Role::Value, before)
        .push(Role::Plain, " to ")
        .push(Role::Value, during)
        .push(Role::Plain, format!(": {said}."));
        Ok(vec![line])
    }

    fn feel(&mut self) -> Result<Vec<Line>, Refusal> {
        self.perform(Operation::Wait(FEELS_FOR))?;
        let session = self.session();
        let (air, coldest) =
            (session.rig().ambient.temperature_at(session.clock()), session.coldest());
        let typed = |kelvin: f64| format!("{:.0} degC", libm::round(kelvin - FREEZING));
        let (air, coldest) = (typed(air), typed(coldest));
        let where_ = self
            .coldest_section()
            .map_or_else(String::new, |section| format!(", at {}", section.called()));
        let told = [("coldest_temperature", coldest.clone()), ("ambient_temperature", air.clone())];
        self.note(TestOf::Temperature, &told, &coldest);
        let line = Line::plain("The coldest spot has ")
            .push(Role::Value, coldest)
            .push(Role::Plain, format!("{where_}; the air has "))
            .push(Role::Value, air)
            .push(Role::Plain, ".");
        Ok(vec![line])
    }

    /// The section that is colder than the air, if one is: water that evaporates cools it.
    fn coldest_section(&self) -> Option<Section> {
        let session = self.session();
        let air = session.rig().ambient.temperature_at(session.clock());
        let is_cold = session.coldest() < air - 1.0;
        let (wet, _) = session.rig().puddles.first().filter(|_| is_cold)?;
        Section::ALL.get(*wet).copied()
    }

    fn second(&mut self) -> Result<Vec<Line>, Refusal> {
        let Some(second) = self.hand.kit().second else {
            return Ok(vec![Line::plain("There is no second gauge here.")]);
        };
        let first = self.look_at_gauge()?;
        let reading = self.hand.second_gauge(&second, Place::PumpInlet);
        let full_scale = second.full_scale;
        let micron = crate::rehearsal::rigged::FACES[0];
        let shown = crate::rehearsal::rigged::pressure(reading, &micron, full_scale);
        match self.reads() {
            Some(TestOf::Pump) => {
                let first = self.hand.shown_as(first);
                let told = [("gauge_a_reading", first), ("gauge_b_reading", shown.clone())];
                self.note(TestOf::SecondGauge, &told, &shown);
            }
            Some(TestOf::System) => {
                self.note(TestOf::SecondGauge, &[("pump_end_reading", shown.clone())], &shown);
            }
            _ => {}
        }
        let line = Line::plain("The second gauge, at the pump, shows ").push(Role::Value, shown);
        Ok(vec![line.push(Role::Plain, ".")])
    }

    /// The gauge comes off what is vented, and stands in the air for a minute.
    fn in_air(&mut self) -> Result<Vec<Line>, Refusal> {
        if self.session().configuration().hookup == Hookup::System {
            let why = "The gauge sits on the system. Take the rig off, or cap the pump, first.";
            return Ok(vec![Line::plain(why)]);
        }
        self.perform(Operation::VentRig)?;
        self.change_something();
        self.end_rising();
        self.perform(Operation::Wait(MINUTE))?;
        let reading = self.look_at_gauge()?;
        let shown = self.hand.shown_as(reading);
        let finds_air = reading == Reading::OverRange;
        self.notes.has_stood_in_air = finds_air;
        let yes_no = if finds_air { "yes" } else { "no" };
        self.note(TestOf::Air, &[("gauge_at_atmosphere", yes_no.to_owned())], &shown);
        let line = Line::plain("In open air the gauge shows ").push(Role::Value, shown);
        Ok(vec![line.push(Role::Plain, ".")])
    }

    fn sniff(&mut self) -> Result<Vec<Line>, Refusal> {
        if self.reads() != Some(TestOf::System) {
            let why = "The exhaust tells only while the pump pulls on the system.";
            return Ok(vec![Line::plain(why)]);
        }
        self.perform(Operation::Wait(FEELS_FOR))?;
        let refrigerant = self.session().pressures(Place::PumpInlet)[2];
        let pump = self.session().rig().pump;
        let finds = refrigerant * pump.speed * pump.left > DETECTED;
        let (yes_no, said) = if finds {
            ("yes", "The detector finds refrigerant in the exhaust.")
        } else {
            ("no", "The detector finds nothing in the exhaust.")
        };
        let shown = if finds { "refrigerant" } else { "nothing" };
        self.note(TestOf::Exhaust, &[("exhaust_detector", yes_no.to_owned())], shown);
        Ok(vec![Line::plain(said)])
    }

    fn warm(&mut self, spot: Spot, by: f64) -> Result<Vec<Line>, Refusal> {
        let operation = match spot {
            Spot::One(section) => Operation::Warm(section as usize, by),
            Spot::All => Operation::WarmSystem(by),
        };
        let before = self.look_at_gauge()?;
        let rate = self.climbs_at();
        self.perform(operation)?;
        if by > 0.0 {
            self.since_hold(Between::Warmed);
        }
        self.notes.warmed = match spot {
            Spot::One(section) if by > 0.0 => Some(Warmed {
                section,
                before,
                rate,
                clock: self.session().clock(),
                temperature: self.session().temperature(section.place()),
            }),
            _ => None,
        };
        if spot == Spot::All && by > 0.0 {
            self.repaired("dry_system");
        }
        let said =
            if by > 0.0 { "Warm air blows on it. Watch the gauge: pull." } else { "It cools." };
        Ok(vec![Line::plain(said)])
    }

    /// How fast the gauge climbs by itself, in Pa/s, as far as somebody has looked.
    fn climbs_at(&self) -> f64 {
        let Some((now, last)) = self.notes.log.last() else { return 0.0 };
        let before = self.notes.log.iter().rev().find(|(clock, _)| now - clock >= 1.8 * MINUTE);
        match before.map(|(clock, reading)| (clock, reading.pressure())) {
            Some((clock, Some(before))) => {
                last.pressure().map_or(0.0, |last| ((last - before) / (now - clock)).max(0.0))
            }
            _ => 0.0,
        }
    }

    /// Once a warmed spot has had its time, tells what the gauge made of it.
    pub(super) fn follow_warmth(&mut self) -> Result<(), Refusal> {
        let Some(warmed) = self.notes.warmed else { return Ok(()) };
        let since = self.session().clock() - warmed.clock;
        if since < 5.0 * MINUTE || self.reads() != Some(TestOf::System) {
            return Ok(());
        }
        self.notes.warmed = None;
        let after = self.look_at_gauge()?;
        let by = (self.session().temperature(warmed.section.place()) - warmed.temperature).max(0.5);
        let climbs = match (warmed.before.pressure(), after.pressure()) {
            (Some(before), Some(after)) => after > CLIMBS_BY * before,
            (before, after) => before.is_some() && after.is_none(),
        };
        let [before, after] = [warmed.before, after].map(|reading| self.hand.shown_as(reading));
        let told = [
            ("reading_before_warming", before),
            ("rate_before_warming", rounded(warmed.rate / MICRON * MINUTE, 2, "micron/min")),
            ("reading_after_warming", after.clone()),
            ("warmed_by", rounded(by, 2, "K")),
            ("warming_minutes", format!("{:.0} min", since / MINUTE)),
            ("follows_warming", if climbs { "yes" } else { "no" }.to_owned()),
        ];
        self.note(TestOf::Warmth, &told, &after);
        Ok(())
    }
}
