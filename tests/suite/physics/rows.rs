//! The rows of `tests/data/physics/`, one file a topic, and those of `tests/data/units.csv`.

use std::path::{Path, PathBuf};

use serde::Deserialize;

/// A value from outside, and what it checks.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// The topic, from the name of the file.
    #[serde(skip)]
    pub topic: String,
    /// What the row is called within its topic.
    pub case: String,
    /// A formula of the language, or `library`.
    pub formula: String,
    /// A number in `unit`, a word for a choice, or `never`.
    pub expected: String,
    /// The unit behind `as`; empty or 1 for a number or a word.
    pub unit: String,
    /// How far off it may be, relative; absolute where 0 is expected.
    pub tolerance: f64,
    /// How well the value is known.
    pub mark: Mark,
    /// Where the value comes from.
    pub source: String,
}

/// How well a value is known.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// Printed in a named source.
    Published,
    /// Computed by another program or by hand.
    Computed,
    /// Remembered: good for the order of magnitude only.
    Memory,
}

impl Row {
    /// Whether the value is computed by a function of a `library_...` module.
    pub fn is_library(&self) -> bool {
        self.formula == "library"
    }
}

/// A row of `tests/data/units.csv`: what is typed at a prompt, and what it is in another unit.
#[derive(Deserialize)]
struct Conversion {
    case: String,
    typed: String,
    barometer: String,
    expected: String,
    unit: String,
    rel_tol: f64,
    source: String,
}

impl Conversion {
    /// The same as a formula. A gauge pressure is counted from its barometer, and gas of 273.15 K
    /// and 101325 Pa is an amount.
    fn into_row(self) -> Row {
        let typed = self.typed.replace(',', "").replace(" um", " micron").replace("CFM", "cfm");
        let value = match (self.unit.as_str(), self.barometer.as_str()) {
            ("mol/s", _) => {
                let volume = typed.replace("sccm", "cm3");
                format!("molar_leak_rate({volume}, 0 Pa, 273.15 K, 101325 Pa, 273.15 K, 1 min)")
            }
            (_, "") => typed,
            (_, barometer) => format!("absolute({typed}, {barometer})"),
        };
        let (mark, source) = self.source.split_once(": ").unwrap();
        Row {
            topic: "01-units".to_owned(),
            case: self.case,
            formula: format!("{value} as {}", self.unit),
            expected: self.expected,
            unit: self.unit,
            tolerance: self.rel_tol,
            mark: if mark == "published" { Mark::Published } else { Mark::Computed },
            source: source.to_owned(),
        }
    }
}

/// Every row of every topic, in order.
pub fn rows() -> Vec<Row> {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let mut files: Vec<PathBuf> = std::fs::read_dir(data.join("physics"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "csv"))
        .collect();
    files.sort();
    let conversions = read(&data.join("units.csv")).into_iter().map(Conversion::into_row);
    conversions.chain(files.iter().flat_map(|file| topic(file))).collect()
}

fn topic(file: &Path) -> Vec<Row> {
    let topic = file.file_stem().unwrap().to_str().unwrap();
    let rows: Vec<Row> = read(file);
    rows.into_iter().map(|row| Row { topic: topic.to_owned(), ..row }).collect()
}

fn read<T: serde::de::DeserializeOwned>(file: &Path) -> Vec<T> {
    let mut reader = csv::Reader::from_path(file).unwrap();
    let whole = |row| match row {
        Ok(row) => row,
        Err(fault) => panic!("{}: {fault}", file.display()),
    };
    reader.deserialize().map(whole).collect()
}
