//! What may be written behind `dryhold practice`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::rehearsal::practice::Level;

pub(super) const PRACTICE_HELP: &str = "\
Examples:
  dryhold practice                          a rig with a hidden fault; time passes on its own clock
  dryhold practice --level easy --seed 7    the same rig for a whole class
  dryhold practice --level hard --name Kim --save kim.json
  dryhold practice --class kim.json lee.json
  dryhold practice --class *.json --format csv

Type what you do, such as pull 20 or shut system; list shows everything, name ends it with what you
name, give up without, and both tell what was hidden; stop tells nothing. What is hazardous without its precaution is refused, but for time that
passes with the compressor not locked out, which goes by with its caution; both are told
afterwards. Where standard input is no terminal, one line is read after the other.

Exit status:
  0    the exercise came to its end, whatever was named; or the list was made
  2    wrong usage, or a record that can't be read or written
  3    left before its end
  130  interrupted; the record is kept";

/// Arguments of `practice`.
#[derive(Args, Clone, Debug, Default)]
pub struct PracticeArguments {
    /// How hard it is
    #[arg(long, value_enum, default_value_t)]
    pub level: LevelChoice,

    /// What chance begins with; the same level and seed give the same rig. Without it the clock
    /// gives one, which is told
    #[arg(long, value_name = "NUMBER")]
    pub seed: Option<u64>,

    /// Who practises, for the record
    #[arg(long, value_name = "NAME")]
    pub name: Option<String>,

    /// What an hour of work costs, in your own money; without it minutes alone are told
    #[arg(long, value_name = "NUMBER", value_parser = read_hourly)]
    pub hourly: Option<f64>,

    /// Writes the record of the exercise into this file
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,

    /// Replaces the record if it is there already
    #[arg(long, requires = "save")]
    pub force: bool,

    /// Lists the records of a class in the place of an exercise
    #[arg(
        long,
        value_name = "FILE",
        num_args = 1..,
        conflicts_with_all = ["level", "seed", "name", "hourly", "save"],
    )]
    pub class: Vec<PathBuf>,

    /// How the list of a class is written
    #[arg(long, value_enum, default_value_t, requires = "class")]
    pub format: ClassFormat,
}

/// How hard an exercise is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum LevelChoice {
    /// One clear fault of the common ones
    Easy,
    /// Any rig, with all that nobody there sees; one in eight may be sound
    #[default]
    Mixed,
    /// Two faults, a sound rig, a fault that looks like another, or a gauge that is off
    Hard,
}

impl From<LevelChoice> for Level {
    fn from(choice: LevelChoice) -> Self {
        match choice {
            LevelChoice::Easy => Self::Easy,
            LevelChoice::Mixed => Self::Mixed,
            LevelChoice::Hard => Self::Hard,
        }
    }
}

/// How the list of a class is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum ClassFormat {
    /// For people
    #[default]
    Text,
    /// For spreadsheets
    Csv,
    /// For programs: one object
    Json,
}

/// What an hour costs: a number from 0 on.
fn read_hourly(text: &str) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(hourly) if (0.0..=1e6).contains(&hourly) => Ok(hourly),
        _ => Err("a number from 0 to 1000000 belongs here".to_owned()),
    }
}
