//! Doubt carried through formulas, against figures found without drawing.
//!
//! A set of draws is small; what many sets come to on average is compared. The tolerance is four
//! standard errors of 400,000 plain random draws or more (`computed` for a normal value: .0011 is
//! one of the deviation, .0021 one of an end of the interval). An end taken from 2048 draws lies
//! .003 further out on average, as the density falls there. Where the figure is of first order,
//! what it leaves out is allowed for too (.007 for the pump-down).

use std::sync::{Arc, LazyLock};

use dryhold::formula::{
    Checked, Draws, Facts, Kind, NameInfo, Names, Referent, Summary, Symbol, Value, check,
    evaluate, parse, stream,
};
use dryhold::quantity::{QuantityKind, UnitExpression};
use dryhold::source::Sources;
use serde::Deserialize;

/// How many sets of draws are averaged.
const SETS: usize = 200;

#[derive(Deserialize)]
struct Row {
    id: String,
    value: f64,
    formula: String,
    statistic: Statistic,
    drawn_tolerance: f64,
}

#[derive(Clone, Copy, Deserialize)]
enum Statistic {
    #[serde(rename = "mean")]
    Mean,
    #[serde(rename = "deviation")]
    Deviation,
    #[serde(rename = "relative deviation")]
    RelativeDeviation,
    #[serde(rename = "low")]
    Low,
    #[serde(rename = "high")]
    High,
    /// What 95 % of the draws lie below.
    #[serde(rename = "most")]
    Most,
}

impl Statistic {
    fn of(self, draws: &Draws<f64>) -> f64 {
        let values = draws.values();
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let squares: f64 = values.iter().map(|x| (x - mean) * (x - mean)).sum();
        let deviation = (squares / (values.len() - 1) as f64).sqrt();
        match self {
            Self::Mean => mean,
            Self::Deviation => deviation,
            Self::RelativeDeviation => deviation / mean,
            Self::Low => Summary::of(draws).low,
            Self::High => Summary::of(draws).high,
            Self::Most => {
                let mut sorted = values.to_vec();
                sorted.sort_by(f64::total_cmp);
                sorted[(0.95 * sorted.len() as f64) as usize]
            }
        }
    }
}

/// Inputs that are normal: the name, its mean and its standard deviation.
const NORMAL: &[(&str, f64, f64, QuantityKind)] = &[
    ("x1", 0.0, 1.0, QuantityKind::NUMBER),
    ("x2", 0.0, 1.0, QuantityKind::NUMBER),
    ("x3", 0.0, 1.0, QuantityKind::NUMBER),
    ("x4", 0.0, 1.0, QuantityKind::NUMBER),
    ("m", 100_000.0, 0.05, QuantityKind::NUMBER),
    ("dm", 1.234, 0.02, QuantityKind::NUMBER),
    // 50 +- 10 micron, in Pa.
    ("floor", 6.666_119_370_75, 1.333_223_874_15, QuantityKind::PRESSURE),
];

/// The normal inputs in one set of draws.
struct Inputs {
    columns: Vec<Draws<f64>>,
}

impl Inputs {
    fn new(set: usize) -> Self {
        let column = |&(name, mean, deviation, _): &(&str, f64, f64, QuantityKind)| {
            let chances = stream(&format!("{name}:{set}"));
            Draws::Each(chances.iter().map(|&u| mean + deviation * normal(u)).collect())
        };
        Self { columns: NORMAL.iter().map(column).collect() }
    }
}

/// The standard normal value below which a share of all lie, by a table of the distribution.
fn normal(share: f64) -> f64 {
    static TABLE: LazyLock<Arc<[f64]>> = LazyLock::new(|| {
        (-6000..=6000).map(|z| 0.5 * libm::erfc(f64::from(-z) / 1000.0 / 2f64.sqrt())).collect()
    });
    let above = TABLE.partition_point(|&below| below < share).clamp(1, TABLE.len() - 1);
    let (low, high) = (TABLE[above - 1], TABLE[above]);
    (above as f64 - 6001.0 + (share - low) / (high - low)) / 1000.0
}

impl Names for Inputs {
    fn lookup(&self, name: &str) -> Option<NameInfo> {
        let place = NORMAL.iter().position(|(input, ..)| *input == name)?;
        Some(NameInfo {
            symbol: Symbol(u32::try_from(place).unwrap()),
            referent: Referent::Question,
            kind: Kind::Quantity(NORMAL[place].3),
            declared: None,
        })
    }

    fn action(&self, _: &str) -> Option<Symbol> {
        None
    }

    fn all_names(&self) -> Vec<&str> {
        NORMAL.iter().map(|(name, ..)| *name).collect()
    }

    fn all_actions(&self) -> Vec<&str> {
        Vec::new()
    }
}

impl Facts for Inputs {
    fn latest(&self, symbol: Symbol) -> Value {
        Value::Quantity(self.columns[symbol.0 as usize].clone())
    }

    fn first(&self, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn previous(&self, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn before(&self, _: Symbol, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn every(&self, symbol: Symbol) -> Value {
        Value::List([self.latest(symbol)].into())
    }

    fn name(&self, symbol: Symbol) -> &str {
        NORMAL[symbol.0 as usize].0
    }

    fn unit(&self, _: Symbol) -> Option<&UnitExpression> {
        None
    }

    fn choice_label(&self, _: Symbol, choice: usize) -> String {
        choice.to_string()
    }
}

fn checked(text: &str, set: usize, inputs: &Inputs) -> Checked {
    let mut sources = Sources::default();
    let id = sources.add("<row>", text);
    let syntax = parse(text, &|range| sources.span(id, range.start, range.end)).unwrap();
    check(&syntax, inputs, &format!("set_{set}"))
        .unwrap_or_else(|faults| panic!("{text}: {faults:#?}"))
}

#[test]
fn draws_come_to_what_is_found_without_drawing() {
    let data = include_bytes!("../../data/uncertainty.csv");
    let rows: Vec<Row> =
        csv::Reader::from_reader(data.as_slice()).deserialize().map(Result::unwrap).collect();
    let mut totals = vec![0.0; rows.len()];
    for set in 0..SETS {
        let inputs = Inputs::new(set);
        for (row, total) in rows.iter().zip(&mut totals) {
            let value = evaluate(&checked(&row.formula, set, &inputs), &inputs);
            let Value::Quantity(draws) = value else { panic!("{}: {value:?}", row.id) };
            *total += row.statistic.of(&draws) / SETS as f64;
        }
    }
    let mut wrong = Vec::new();
    for (row, total) in rows.iter().zip(totals) {
        let error = (total / row.value - 1.0).abs();
        println!("{}: {total} for {}, off by {error:.1e}", row.id, row.value);
        if error > row.drawn_tolerance {
            wrong.push(format!("{}: {total}, not {}", row.id, row.value));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(rows.len() > 12, "only {} rows", rows.len());
}

#[test]
fn the_table_of_the_normal_distribution_is_right() {
    for (share, z) in [(0.5, 0.0), (0.975, 1.959_963_985), (0.025, -1.959_963_985)] {
        assert!((normal(share) - z).abs() < 1e-6, "{share}: {}", normal(share));
    }
}
