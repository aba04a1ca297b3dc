//! What the commands about hold tests can be told of the hold.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// How a gauge answers to the kind of gas.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Responds {
    /// It measures how gas carries heat; water vapour reads otherwise than air.
    #[value(name = "heat_loss", alias = "heat-loss")]
    HeatLoss,
    /// It measures force; every gas reads alike.
    Independent,
    /// Not known.
    #[default]
    Unknown,
}

/// What is known about a hold, apart from its readings.
#[derive(Args, Clone, Debug)]
pub struct HoldArguments {
    /// The volume that is shut off, such as '12 +- 4 L'
    #[arg(long)]
    pub volume: Option<String>,

    /// By how much the system became warmer or colder during the hold, such as '2 K',
    /// '-1 +- 0.5 K' or '20 degC to 22 degC'
    #[arg(long, value_name = "CHANGE", allow_hyphen_values = true)]
    pub temperature: Option<String>,

    /// The temperature of the coldest spot, such as '4 +- 2 degC'
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub coldest: Option<String>,

    /// The refrigerant of the working system, such as r32, to tell a leak as a loss in a year
    #[arg(long, value_name = "DESIGNATION", requires = "volume")]
    pub refrigerant: Option<String>,

    /// Its absolute pressure at work; that over liquid of 20 degC if not given
    #[arg(long, value_name = "PRESSURE", requires = "refrigerant")]
    pub working_pressure: Option<String>,

    /// A written limit, with --within
    #[arg(long, value_name = "PRESSURE")]
    pub limit: Option<String>,

    /// The time within which the limit may not be passed, with --limit
    #[arg(long, value_name = "TIME")]
    pub within: Option<String>,

    /// Who wrote the limit, such as the maker's sheet or the local code
    #[arg(long, value_name = "TEXT", requires = "limit")]
    pub criterion_from: Option<String>,

    /// The steady rise that matters; 5 micron/min if not given
    #[arg(long, value_name = "RATE")]
    pub matters: Option<String>,

    /// How far the gauge may be off, as a share of the reading
    #[arg(long, value_name = "SHARE")]
    pub gauge_scale: Option<String>,

    /// How far the gauge may be off besides, at low readings
    #[arg(long, value_name = "PRESSURE")]
    pub gauge_offset: Option<String>,

    /// The step between two readings that the gauge can show; found in the readings if not given
    #[arg(long, value_name = "PRESSURE")]
    pub gauge_step: Option<String>,

    /// How the gauge answers to the kind of gas
    #[arg(long, value_enum, default_value_t)]
    pub gas_response: Responds,
}

/// Arguments of `watch`.
#[derive(Args, Clone, Debug)]
pub struct WatchArguments {
    /// What is known about the hold.
    #[command(flatten)]
    pub hold: HoldArguments,

    /// The time between readings; 1 min for the first five and 2 min after them if not given
    #[arg(long, value_name = "TIME")]
    pub every: Option<String>,

    /// The file that readings are kept in; one of an earlier watch is gone on with
    #[arg(long, value_name = "FILE")]
    pub log: Option<PathBuf>,

    /// The unit of a bare number; that of the settings if not given, from a pipe micron
    #[arg(long, value_name = "UNIT")]
    pub pressure_unit: Option<String>,

    /// Says how long it is likely to take, and no more
    #[arg(long, conflicts_with_all = ["log", "json"])]
    pub plan: bool,

    /// Prints the reading as JSON after each line, one object a line
    #[arg(long)]
    pub json: bool,
}
