//! Logs of hold tests: files, arbitrary bytes, long logs, and the way back to a table.

use std::io::Read;

use dryhold::quantity::parse_unit;
use dryhold::series::{
    Given, LogError, Readings, Remark, Start, TimeForm, read_log, read_pasted, write_csv,
};
use proptest::prelude::*;

fn file(name: &str, given: &Given) -> Readings {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/series");
    let bytes = std::fs::read(folder.join(name)).unwrap();
    read_log(&*bytes, given).unwrap_or_else(|fault| panic!("{name}: {fault}"))
}

fn read(text: &str) -> Result<Readings, LogError> {
    read_log(text.as_bytes(), &Given::default())
}

fn counts(readings: &Readings) -> Vec<(Remark, u64)> {
    readings.notes().counts().collect()
}

/// Pressures in a unit, rounded to a millionth.
fn pressures(readings: &Readings, unit: &str) -> Vec<f64> {
    let unit = parse_unit(unit).unwrap();
    readings.pressures().iter().map(|&p| (unit.from_si(p) * 1e6).round() / 1e6).collect()
}

fn resolution(readings: &Readings, unit: &str) -> f64 {
    let step = parse_unit(unit).unwrap().from_si(readings.resolution().unwrap());
    (step * 1e9).round() / 1e9
}

#[test]
fn a_decimal_comma_is_read_between_semicolons() {
    let readings = file("semicolon-decimal-comma.csv", &Given::default());
    assert_eq!(readings.times(), [0.0, 60.0, 120.0, 240.0]);
    assert_eq!(pressures(&readings, "mbar"), [0.4, 0.45, 0.49, 0.56]);
    assert_eq!(resolution(&readings, "mbar"), 0.01);
    assert_eq!(counts(&readings), [(Remark::AboveHeading, 2), (Remark::PressureMissing, 1)]);
    assert_eq!(readings.notes().kept()[2].line, 8);
}

#[test]
fn stamps_in_two_columns_run_across_midnight() {
    let readings = file("stamps-quotes-crlf.csv", &Given::default());
    assert_eq!(readings.times(), [0.0, 60.0, 120.0]);
    assert_eq!(pressures(&readings, "micron"), [310.0, 320.0, 330.0]);
    assert_eq!(resolution(&readings, "micron"), 10.0);
    let mark = readings.marks()[0];
    assert_eq!((mark.time_s, mark.limit_pa.map(f64::round)), (180.0, Some(2666.0)));
    let Some(Start::Local(start)) = readings.start() else { panic!("{:?}", readings.start()) };
    assert_eq!(start.to_string(), "2026-03-01T23:58:00");
    assert!(counts(&readings).is_empty());
}

#[test]
fn rows_in_disorder_are_each_told() {
    let readings = file("disorder.csv", &Given::default());
    assert_eq!(readings.times(), [0.0, 60.0, 120.0, 180.0, 240.0]);
    assert_eq!(readings.pressures(), [40.0, 41.0, 42.0, 43.0, 45.0]);
    assert_eq!(readings.weights(), [1, 1, 1, 2, 2]);
    assert_eq!(readings.marked(), 1);
    let expected = [
        (Remark::CellsMissing, 1),
        (Remark::TimeUnreadable, 2),
        (Remark::PressureUnreadable, 1),
        (Remark::BelowZero, 1),
        (Remark::Averaged, 1),
        (Remark::OutOfOrder, 1),
    ];
    assert_eq!(counts(&readings), expected);
    assert_eq!(readings.notes().left_out(), 5);
    assert!(
        readings
            .notes()
            .lines()
            .contains(&"1 row: has an absolute pressure below zero; left out (line 10)".to_owned()),
        "{:?}",
        readings.notes().lines()
    );
}

#[test]
fn units_may_stand_below_the_names_and_a_gap_is_told() {
    let readings = file("tabs-units-below.tsv", &Given::default());
    assert_eq!(readings.len(), 12);
    assert_eq!(readings.duration(), 480.0);
    assert_eq!(resolution(&readings, "micron"), 5.0);
    assert_eq!(counts(&readings), [(Remark::BehindGap, 1)]);
    assert_eq!(readings.notes().kept()[0].line, 13);
}

#[test]
fn a_table_between_pipes_is_read() {
    let readings = file("pipes.txt", &Given::default());
    assert_eq!(readings.times(), [0.0, 900.0, 1800.0]);
    assert_eq!(pressures(&readings, "Torr"), [0.3, 0.42, 0.51]);
}

#[test]
fn units_may_be_given_instead_of_a_heading() {
    let given = Given {
        time_unit: TimeForm::parse("s"),
        pressure_unit: parse_unit("micron").ok(),
        ..Given::default()
    };
    let readings = file("blanks.txt", &given);
    assert_eq!(readings.times(), [0.0, 60.0, 120.0]);
    assert_eq!(pressures(&readings, "micron"), [300.5, 310.5, 320.0]);
}

#[test]
fn times_of_day_cross_midnight_once() {
    let log = "time of day,p (Pa)\n23:58,40\n23:59,41\n00:00,42\n00:01,43\n";
    let readings = read(log).unwrap();
    assert_eq!(readings.times(), [0.0, 60.0, 120.0, 180.0]);
    assert_eq!(counts(&readings), [(Remark::BehindMidnight, 1), (Remark::ReadAsClock, 1)]);
    assert_eq!(readings.start(), Some(Start::TimeOfDay(86_280.0)));
    let half_days = "time,p (Pa)\n11:59:30 AM,40\n12:00:30 PM,41\n1:00:30 PM,42\n";
    assert_eq!(read(half_days).unwrap().times(), [0.0, 60.0, 3660.0]);
}

#[test]
fn a_log_without_a_meaning_is_refused() {
    let cases = [
        ("", "H906"),
        ("\n# nothing\n", "H906"),
        ("time_s,p (Pa)\n0,40\n0,44\n", "H906"),
        ("a,b\n1,2\n", "H901"),
        ("time_s,p\n0,300\n1,301\n", "H902"),
        ("time_s,p (mbar)\n0,0,40\n1,0,41\n", "H903"),
        ("time_s,p (Pa)\n60,40\n0,41\n", "H905"),
        ("\u{0}\u{1}\n\u{2}", "H901"),
    ];
    for (log, code) in cases {
        let Err(LogError::Fault(fault)) = read(log) else { panic!("{log:?} is read") };
        assert_eq!(fault.code.number(), code, "{log:?}: {fault}");
    }
}

#[test]
fn the_same_two_readings_are_read_from_many_layouts() {
    for log in [
        "Time (s)  p [Pa]\n0  40\n60  41.5\n",
        "sep=;\nt (min);p (Pa)\n0;40,0\n1;41,5\n",
        "\"Time, s\",\"Pressure, Pa\"\n\"0\",\"40\"\n\"60\",\"41,5\"\n",
        "time_h\tpressure_pa\n0\t40\n0.016666666666666666\t41.5\n",
        "No,Date/Time,CH1 pressure (hPa),Temp (degC)\n1,2026-03-01 10:00:00,0.4,20\n2,2026-03-01 10:01:00,0.415,20\n",
        "date,time,p (Pa)\n2026-03-01,11:59:30 PM,40\n2026-03-02,12:00:30 AM,41.5\n",
        "10:00:00;40 Pa\n10:01:00;41.5 Pa\n",
        "0:00,40 Pa\n1:00,41.5 Pa\n",
        "elapsed,vacuum (Pa)\n00:00:00,40\n00:01:00,41.5\n",
        "stamp,p (Pa)\n2026-03-01T10:00:00.5Z,40\n2026-03-01T11:01:00.5+01:00,41.5\n",
        "p (Pa),t (s)\n40,100\n41.5,160",
        "time_s,p (Pa),\n0,40,\n60,41.5,\n",
        "t,p\ns,Pa\n0,40\n60,41.5\n",
    ] {
        let readings = read(log).unwrap_or_else(|fault| panic!("{log}: {fault}"));
        assert_eq!(readings.times(), [0.0, 60.0], "{log}");
        assert_eq!(readings.pressures(), [40.0, 41.5], "{log}");
    }
}

#[test]
fn a_line_without_an_end_is_one_row_that_is_left_out() {
    let log = format!("time_s,p (Pa)\n0,40\n{}\n60,41\n", "1,".repeat(100_000));
    let readings = read(&log).unwrap();
    assert_eq!(counts(&readings), [(Remark::Unsplittable, 1)]);
}

#[test]
fn marks_come_back_from_their_table() {
    let log = "time_min,pressure_micron\n0,300\n5,OL\n10,>20000\n15,400\n20,UL\n";
    for unit in ["Pa", "micron"] {
        let readings = read(log).unwrap();
        let back = read(&write_csv(&readings, &parse_unit(unit).unwrap())).unwrap();
        assert_eq!(back.marks(), readings.marks(), "{unit}");
        assert_eq!((back.times(), back.pressures()), (readings.times(), readings.pressures()));
    }
}

#[test]
fn thousands_that_begin_halfway_are_not_taken_for_columns() {
    let fault = read("time_s,pressure_micron\n0,900\n60,990\n120,1,080\n").unwrap_err();
    assert!(fault.to_string().starts_with("line 4: 3 cells in a row of 2 columns"), "{fault}");
}

/// A log made up row by row while it is read, so that it never stands in memory.
struct Endless {
    rows: u64,
    next: u64,
    pending: Vec<u8>,
}

impl Endless {
    fn of(rows: u64) -> std::io::BufReader<Self> {
        let pending = b"time_s,pressure_pa\n".to_vec();
        std::io::BufReader::new(Self { rows, next: 0, pending })
    }
}

impl Read for Endless {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        while self.pending.len() < buffer.len() && self.next < self.rows {
            let i = self.next;
            self.next += 1;
            let spike = if i == self.rows / 3 { 500.0 } else { 0.0 };
            let row = format!("{},{:.2}\n", i as f64 * 0.5, 40.0 + 0.01 * i as f64 + spike);
            self.pending.extend_from_slice(row.as_bytes());
        }
        let taken = buffer.len().min(self.pending.len());
        buffer[..taken].copy_from_slice(&self.pending[..taken]);
        self.pending.drain(..taken);
        Ok(taken)
    }
}

#[test]
fn a_long_log_is_thinned_without_losing_its_ends_and_extremes() {
    let rows = 200_000;
    let readings = read_log(Endless::of(rows), &Given::default()).unwrap();
    assert_eq!(readings.rows(), rows);
    assert!(readings.is_thinned() && (1000..=4096).contains(&readings.len()));
    assert_eq!(readings.first().pressure_pa, 40.0);
    assert_eq!(readings.last().time_s, 99_999.5);
    assert_eq!(readings.duration(), 99_999.5);
    let spike = 40.0 + 0.01 * (rows / 3) as f64 + 500.0;
    let highest = readings.highest().pressure_pa;
    let last = readings.last().pressure_pa;
    assert!((highest - spike.max(last)).abs() < 0.01, "{highest}");
    assert!((readings.resolution().unwrap() - 0.01).abs() < 1e-12);
    // A straight rise stays on its line, but for the bin with the spike.
    let off = readings.times().iter().zip(readings.pressures());
    let off = off.filter(|&(&t, &p)| (p - 40.0 - 0.02 * t).abs() > 0.006).count();
    assert!(off <= 1, "{off}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn arbitrary_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = read_log(&*bytes, &Given::default());
        let _ = read_pasted(&String::from_utf8_lossy(&bytes), &Given::default());
    }

    #[test]
    fn texts_that_look_like_logs_never_panic(text in "(time_s|stamp|p|[0-9]{1,3})[,;\t| ](p \\(Pa\\)|micron|[0-9.,]{1,6})\n([0-9:.,;\t |\"#>eE+\n-]|OL|min|every|2026-01-0){0,80}") {
        let given = Given {
            time_unit: TimeForm::parse("s"),
            pressure_unit: parse_unit("micron").ok(),
            ..Given::default()
        };
        for given in [Given::default(), given] {
            for readings in [read_log(text.as_bytes(), &given).ok(), read_pasted(&text, &given).ok()] {
                let Some(readings) = readings else { continue };
                prop_assert!(readings.times().windows(2).all(|pair| pair[0] < pair[1]));
                prop_assert!(readings.pressures().iter().all(|p| p.is_finite() && *p >= 0.0));
                prop_assert!(readings.len() >= 1);
            }
        }
    }

    #[test]
    fn readings_come_back_from_their_table(
        steps in proptest::collection::vec((1e-3..1e4_f64, 0.0..1e5_f64), 2..60),
        unit in proptest::sample::select(vec!["micron", "mbar", "Pa", "Torr"]),
    ) {
        let times: Vec<f64> = steps.iter().scan(0.0, |t, (step, _)| { *t += step; Some(*t) }).collect();
        let pressures: Vec<f64> = steps.iter().map(|(_, pressure)| *pressure).collect();
        let readings = Readings::new(&times, &pressures).unwrap();
        let table = write_csv(&readings, &parse_unit(unit).unwrap());
        let back = read(&table).map_err(|fault| TestCaseError::fail(format!("{fault}\n{table}")))?;
        prop_assert_eq!(back.times(), readings.times());
        prop_assert_eq!(back.pressures(), readings.pressures());
    }

    #[test]
    fn stamped_rows_give_the_same_readings_in_any_order(
        order in Just((0..40_u32).collect::<Vec<_>>()).prop_shuffle(),
    ) {
        let rows: String = order
            .iter()
            .map(|i| format!("2026-03-01T10:{:02}:{:02}Z,{}\n", i / 2, 30 * (i % 2), 40 + i))
            .collect();
        let readings = read(&format!("stamp,p (Pa)\n{rows}")).unwrap();
        let times: Vec<f64> = (0..40).map(|i| 30.0 * f64::from(i)).collect();
        let pressures: Vec<f64> = (40..80).map(f64::from).collect();
        prop_assert_eq!(readings.times(), &times[..]);
        prop_assert_eq!(readings.pressures(), &pressures[..]);
    }
}
