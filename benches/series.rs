//! How long a log of a million rows takes, and how much memory.
//!
//! With the path of a file as its argument it reads that file over and over and prints the
//! milliseconds of each turn, for `series_against_numpy.py`. Without one it reads logs of 10,000
//! to 4,000,000 rows, made up while they are read, and prints for each the time and the most
//! memory that the process has needed so far.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use std::fs::File;
use std::io::{BufReader, Read, Write};
use std::time::Instant;

use dryhold::series::{Given, Readings, read_log};

const TURNS: usize = 7;
const ROWS: [u64; 4] = [10_000, 100_000, 1_000_000, 4_000_000];

fn main() {
    let mut out = std::io::stdout();
    let path = std::env::args().skip(1).find(|argument| !argument.starts_with('-'));
    if let Some(path) = path {
        for _ in 0..TURNS {
            let begun = Instant::now();
            let readings = read(File::open(&path).unwrap());
            let milliseconds = begun.elapsed().as_secs_f64() * 1e3;
            let last = readings.last();
            let (rows, kept) = (readings.rows(), readings.len());
            let (time, pressure) = (last.time_s, last.pressure_pa);
            writeln!(out, "{milliseconds:.1} {rows} {kept} {time:?} {pressure:?}").unwrap();
        }
        return;
    }
    writeln!(out, "rows | ms | readings kept | most memory so far, KiB").unwrap();
    for rows in ROWS {
        let begun = Instant::now();
        let readings = read(MadeUp { rows, next: 0, pending: Vec::new() });
        let milliseconds = begun.elapsed().as_secs_f64() * 1e3;
        let kept = readings.len();
        writeln!(out, "{rows} | {milliseconds:.0} | {kept} | {}", most_memory()).unwrap();
    }
}

fn read(log: impl Read) -> Readings {
    read_log(BufReader::with_capacity(1 << 16, log), &Given::default()).unwrap()
}

/// The high-water mark of the process's memory as the system tells it, or a dash.
fn most_memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.map_or("-", |line| line.trim().trim_end_matches(" kB")).to_owned()
}

/// A log that never stands in memory.
struct MadeUp {
    rows: u64,
    next: u64,
    pending: Vec<u8>,
}

impl Read for MadeUp {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.next == 0 {
            self.pending.extend_from_slice(b"time_s,pressure_pa\n");
        }
        while self.pending.len() < buffer.len() && self.next < self.rows {
            let (i, row) = (self.next, self.next as f64);
            self.next += 1;
            writeln!(
                self.pending,
                "{:.1},{:.2}",
                0.5 * row,
                40.0 + 1e-4 * row + (i % 7) as f64 * 0.01
            )?;
        }
        let taken = buffer.len().min(self.pending.len());
        buffer[..taken].copy_from_slice(&self.pending[..taken]);
        self.pending.drain(..taken);
        Ok(taken)
    }
}
