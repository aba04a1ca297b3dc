//! The ranges of a population, found and checked.

use std::collections::BTreeMap;

use super::super::super::scenario::found;
use super::super::fault::{Fault, Size};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawDrawn, RawRigRanges};
use crate::document::{Scalar, Spanned};
use crate::handbook::{CauseId, Handbook};
use crate::quantity::{QuantityKind, parse_quantity, parse_range};

/// The ranges that come with the program.
pub const RIG_RANGES: &str = include_str!("ranges.yaml");

macro_rules! unknowns {
    ($($(#[doc = $doc:literal])+ $name:ident = $word:literal, $kind:expr;)*) => {
        /// Something that nobody at a rig sees, or that differs from rig to rig.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Unknown {
            $($(#[doc = $doc])+ $name,)*
        }

        impl Unknown {
            /// Every one.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Its name in the file.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$name => $word,)* }
            }

            fn kind(self) -> QuantityKind {
                match self { $(Self::$name => $kind,)* }
            }
        }
    };
}

unknowns! {
    /// How much more easily the parts let gas through than is seen.
    Conductance = "conductance", QuantityKind::NUMBER;
    /// How much faster the pump is than its plate says.
    Speed = "speed", QuantityKind::NUMBER;
    /// The volume of the system.
    Volume = "volume", QuantityKind::VOLUME;
    /// How much larger it is told.
    VolumeTold = "volume_told", QuantityKind::NUMBER;
    /// How much too high the gauge reads, as a share.
    GaugeScale = "gauge_scale", QuantityKind::NUMBER;
    /// How much too high it reads besides.
    GaugeOffset = "gauge_offset", QuantityKind::PRESSURE_DIFFERENCE;
    /// How much single readings scatter, as a share.
    GaugeNoise = "gauge_noise", QuantityKind::NUMBER;
    /// How long the gauge takes for a change.
    GaugeLag = "gauge_lag", QuantityKind::TIME;
    /// What the gauge shows of water vapour, over what is there.
    WaterResponse = "water_response", QuantityKind::NUMBER;
    /// The floor of the sound pump.
    Ultimate = "ultimate", QuantityKind::PRESSURE_DIFFERENCE;
    /// The speed on the pump's plate.
    RatedSpeed = "rated_speed", QuantityKind::FLOW;
    /// The water in the walls of a sound system, over that of dry ones.
    Walls = "walls", QuantityKind::NUMBER;
    /// The same of a sound hose.
    HoseWalls = "hose_walls", QuantityKind::NUMBER;
    /// The length of the hose.
    HoseLength = "hose_length", QuantityKind::LENGTH;
    /// The bore of a wide hose.
    HoseBore = "hose_bore", QuantityKind::LENGTH;
    /// The temperature of the air.
    Temperature = "temperature", QuantityKind::TEMPERATURE;
    /// The humidity of the air.
    Humidity = "humidity", QuantityKind::NUMBER;
    /// How far the air warms in an hour.
    Drift = "drift", QuantityKind::TEMPERATURE_DIFFERENCE;
    /// The vacuum that the job asks for.
    Target = "target", QuantityKind::PRESSURE;
    /// How many have a second gauge.
    SecondGauge = "second_gauge", QuantityKind::NUMBER;
    /// How many have a gauge with another face than micron.
    OtherFace = "other_face", QuantityKind::NUMBER;
}

/// What is told of the past, by its name in the file.
pub(super) const PAST: [&str; 6] =
    ["wet", "new_joints", "held_nitrogen", "oily_gauge", "never_charged", "old_oil"];

/// The slips, by their names in the file.
pub(super) const SLIPS: [&str; 3] = ["unit", "valve", "early"];

/// The word for every cause that has no share of its own.
const ANYWAY: &str = "anyway";

/// A fault of a cause: its share and the range of its size in SI units.
pub(super) type Way = (Fault, f64, (f64, f64));

/// How often something is told of the past: anyway, and with each cause.
pub(super) type Shares = (f64, Vec<(CauseId, f64)>);

/// The ranges of a population.
#[derive(Clone, Debug, Default)]
pub struct Ranges {
    /// What the population is called.
    pub population: String,
    pub(super) unknowns: BTreeMap<Unknown, (f64, f64)>,
    pub(super) slips: BTreeMap<&'static str, f64>,
    /// By what is told of the past.
    pub(super) past: BTreeMap<&'static str, Shares>,
    pub(super) ways: Vec<(CauseId, Vec<Way>)>,
}

impl Ranges {
    /// Finds everything that ranges name in a handbook, and sees that nothing is left out.
    ///
    /// # Errors
    /// Every fault: a name that is not there or missing, a range that can't be read.
    pub fn resolve(raw: &RawRigRanges, handbook: &Handbook) -> Result<Self, Vec<Diagnostic>> {
        let mut faults = Vec::new();
        let mut ranges = Self {
            population: raw.population.as_ref().map(|text| text.text.clone()).unwrap_or_default(),
            ..Self::default()
        };
        ranges.take_unknowns(raw, &mut faults);
        for (word, text) in named(&raw.slips, &SLIPS, "slip", &mut faults) {
            ranges.slips.extend(share(text, &mut faults).map(|share| (word, share)));
        }
        ranges.take_past(raw, handbook, &mut faults);
        ranges.take_causes(raw, handbook, &mut faults);
        if faults.is_empty() { Ok(ranges) } else { Err(faults) }
    }

    /// The cause that wet oil is.
    #[must_use]
    pub fn wet_oil(&self) -> Option<CauseId> {
        self.shown_by(&[Fault::OilWet]).first().copied()
    }

    /// The causes that a wet system is.
    #[must_use]
    pub fn wet_system(&self) -> Vec<CauseId> {
        self.shown_by(&[Fault::Water, Fault::WallsWet, Fault::DrierWet])
    }

    /// The causes that a leak of the system is.
    #[must_use]
    pub fn system_leak(&self) -> Vec<CauseId> {
        self.shown_by(&[Fault::SystemLeak])
    }

    /// The causes that show as one of these faults.
    fn shown_by(&self, faults: &[Fault]) -> Vec<CauseId> {
        let is_it = |ways: &[Way]| ways.iter().any(|(fault, _, _)| faults.contains(fault));
        let found = self.ways.iter().filter(|(_, ways)| is_it(ways));
        found.map(|(cause, _)| *cause).collect()
    }

    fn take_unknowns(&mut self, raw: &RawRigRanges, faults: &mut Vec<Diagnostic>) {
        let words: Vec<&'static str> = Unknown::ALL.iter().map(|unknown| unknown.word()).collect();
        for (word, text) in named(&raw.unknowns, &words, "unknown", faults) {
            let found = Unknown::ALL.iter().find(|unknown| unknown.word() == word);
            let Some(unknown) = found.copied() else { continue };
            self.unknowns.extend(range(text, unknown.kind(), faults).map(|r| (unknown, r)));
        }
    }

    fn take_past(&mut self, raw: &RawRigRanges, handbook: &Handbook, faults: &mut Vec<Diagnostic>) {
        for (word, shares) in named(&raw.past, &PAST, "thing of the past", faults) {
            let (mut anyway, mut with) = (0.0, Vec::new());
            for (name, text) in shares {
                let Some(share) = share(text, faults) else { continue };
                if name.value == ANYWAY {
                    anyway = share;
                } else if let Some(cause) = cause(handbook, name, faults) {
                    with.push((cause, share));
                }
            }
            self.past.insert(word, (anyway, with));
        }
    }

    fn take_causes(
        &mut self,
        raw: &RawRigRanges,
        handbook: &Handbook,
        faults: &mut Vec<Diagnostic>,
    ) {
        for (name, drawn) in &raw.causes {
            let Some(cause) = cause(handbook, name, faults) else { continue };
            let ways: Vec<Way> = drawn.iter().filter_map(|drawn| way(drawn, faults)).collect();
            self.ways.push((cause, ways));
        }
        let is_missing = |id: &&str| !raw.causes.iter().any(|(name, _)| name.value == **id);
        let ids = handbook.causes().iter().map(|cause| cause.id.as_str());
        let missing: Vec<&str> = ids.filter(is_missing).collect();
        if let (Some(last), [first, ..]) = (raw.causes.last(), &missing[..]) {
            let title = format!("the cause `{first}` has no range");
            let label = "every cause of the handbook belongs here, the last one is this";
            faults.push(Diagnostic::at(Code::RigUnanswered, title, last.0.span, label));
        }
    }
}

fn cause(
    handbook: &Handbook,
    name: &Spanned<String>,
    faults: &mut Vec<Diagnostic>,
) -> Option<CauseId> {
    let ids = handbook.causes().iter().map(|cause| cause.id.as_str());
    found(handbook.find_cause(&name.value), "cause", name, ids, Code::UnknownName, faults)
}

/// The entries of known names, each unknown and each missing one being a fault.
fn named<'r, T>(
    written: &'r [(Spanned<String>, T)],
    known: &[&'static str],
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Vec<(&'static str, &'r T)> {
    let mut entries = Vec::new();
    for (name, value) in written {
        match known.iter().find(|word| **word == name.value) {
            Some(word) => entries.push((*word, value)),
            None => {
                let near = near_name(&name.value, known.iter().copied());
                let title = format!("no {what} is called `{}`", name.value);
                let fault = Diagnostic::at(Code::UnknownWord, title, name.span, "not known here");
                faults.push(fault.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
            }
        }
    }
    let missing = known.iter().find(|word| !entries.iter().any(|(there, _)| there == *word));
    if let (Some(missing), Some((last, _))) = (missing, written.last()) {
        let title = format!("the {what} `{missing}` is missing");
        let label = format!("every {what} belongs here, the last one is this");
        faults.push(Diagnostic::at(Code::MissingKey, title, last.span, label));
    }
    entries
}

/// A share from 0 to 1.
fn share(text: &Scalar, faults: &mut Vec<Diagnostic>) -> Option<f64> {
    match parse_quantity(text.text.trim(), QuantityKind::NUMBER) {
        Ok(share) if (0.0..=1.0).contains(&share) => Some(share),
        Ok(_) => misfit(text, "a share lies between 0 % and 100 %".to_owned(), faults),
        Err(misread) => misfit(text, misread.to_string(), faults),
    }
}

/// A range, or one value for both of its ends.
fn range(text: &Scalar, kind: QuantityKind, faults: &mut Vec<Diagnostic>) -> Option<(f64, f64)> {
    let written = text.text.trim();
    let read = match parse_range(written, kind) {
        Ok(range) => Ok(range),
        Err(_) if !written.contains(" to ") => parse_quantity(written, kind).map(|one| (one, one)),
        Err(misread) => Err(misread),
    };
    read.map_or_else(|misread| misfit(text, misread.to_string(), faults), Some)
}

fn way(drawn: &RawDrawn, faults: &mut Vec<Diagnostic>) -> Option<Way> {
    let Some(fault) = Fault::named(&drawn.fault.value) else {
        let words = Fault::ALL.iter().map(|fault| fault.word());
        let near = near_name(&drawn.fault.value, words);
        let title = format!("no rig has the fault `{}`", drawn.fault.value);
        let span = drawn.fault.span;
        let told = Diagnostic::at(Code::UnknownWord, title, span, "no fault has this name");
        faults.push(told.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
        return None;
    };
    let share = match &drawn.share {
        Some(text) => match text.text.trim().parse::<f64>() {
            Ok(share) if share > 0.0 && share.is_finite() => share,
            _ => return misfit(text, "a number above 0 belongs here".to_owned(), faults),
        },
        None => 1.0,
    };
    let size = match (fault.size(), &drawn.size) {
        (Size::There, _) => (1.0, 1.0),
        (Size::Of(kind, least, most), Some(text)) => {
            let size = range(text, kind, faults)?;
            if size.0 < least || size.1 > most || size.0 <= 0.0 {
                let why = "a part of it can't be the size of this fault".to_owned();
                return misfit(text, why, faults);
            }
            size
        }
        (Size::Of(..), None) => {
            let title = format!("the fault `{}` has no size", drawn.fault.value);
            let label = "`size` belongs behind it";
            faults.push(Diagnostic::at(Code::MissingKey, title, drawn.fault.span, label));
            return None;
        }
    };
    Some((fault, share, size))
}

fn misfit<T>(text: &Scalar, why: String, faults: &mut Vec<Diagnostic>) -> Option<T> {
    let title = format!("`{}` can't stand here", text.text);
    faults.push(Diagnostic::at(Code::RigMisfit, title, text.span, why));
    None
}
