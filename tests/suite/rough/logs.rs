//! Logs of holds as loggers, editors and mischief leave them.

use super::Rough;

pub const TABLE: &[Rough] = &[
    Rough {
        what: "a device without an end instead of a log",
        does: "dryhold rise /dev/zero",
        status: 2,
        says: "the log `/dev/zero` can't be read: line 1 has no end within 64 MiB",
    },
    Rough {
        what: "an endless line on standard input",
        does: "dryhold rise - < /dev/zero",
        status: 2,
        says: "line 1 has no end within 64 MiB",
    },
    Rough {
        what: "an empty log",
        does: "dryhold rise /dev/null",
        status: 2,
        says: "no reading in the log",
    },
    Rough {
        what: "a folder instead of a log",
        does: "dryhold rise hollow",
        status: 2,
        says: "the log `hollow` can't be read: it is a folder",
    },
    Rough {
        what: "a log that is not there",
        does: "dryhold rise nowhere.csv",
        status: 2,
        says: "the log `nowhere.csv` can't be read: it is not there",
    },
    Rough {
        what: "a log with a byte 0",
        does: r"printf 'time_s,pressure_micron\n0,300\000\n60,310\n' > a.csv; dryhold rise a.csv",
        status: 2,
        says: "error[H9",
    },
    Rough {
        what: "a log whose heading would colour the terminal",
        does: r"printf 't\033[31m,p\n0,300\n60,310\n' > a.csv; dryhold rise a.csv",
        status: 2,
        says: "t<U+001B>[31m",
    },
    Rough {
        what: "a log whose heading reads backwards",
        does: r"printf 't\342\200\256,p\n0,300\n60,310\n' > a.csv; dryhold rise a.csv",
        status: 2,
        says: "t<U+202E>",
    },
    Rough {
        what: "a log of ten megabytes on one line",
        does: r"head -c 10000000 /dev/zero | tr '\0' '1' > a.csv; dryhold rise a.csv",
        status: 2,
        says: "no columns of time and pressure are named",
    },
    Rough {
        what: "a log with a number beyond all numbers",
        does: r"printf 'time_s,pressure_micron\n0,1e400\n60,310\n120,320\n' > a.csv; dryhold rise a.csv",
        status: 3,
        says: "a pressure that is no number; left out (line 2)",
    },
    Rough {
        what: "a log of what is no number",
        does: r"printf 'time_s,pressure_micron\n0,NaN\n60,inf\n120,320\n' > a.csv; dryhold rise a.csv",
        status: 2,
        says: "only one reading in the log",
    },
    Rough {
        what: "a log that begins before its zero",
        does: r"printf 'time_s,pressure_micron\n-60,300\n-30,310\n0,320\n30,330\n' > a.csv
            dryhold rise a.csv",
        status: 3,
        says: "Cannot tell",
    },
    Rough {
        what: "a log with a byte order mark and the line ends of another system",
        does: r"printf '\357\273\277time_s,pressure_micron\r\n0,300\r\n60,310\r\n120,320\r\n180,330\r\n240,340\r\n' > a.csv
            dryhold rise a.csv",
        status: 3,
        says: "5 readings over 4 min",
    },
    Rough {
        what: "a log in UTF-16",
        does: r"printf '\377\376t\000,\000p\000\n\000' > a.csv; dryhold rise a.csv",
        status: 2,
        says: "the log is written in UTF-16",
    },
    Rough {
        what: "noise instead of a log",
        does: "head -c 100000 /dev/urandom > a.csv; dryhold rise a.csv",
        status: 2,
        says: "error[H9",
    },
    Rough {
        what: "a chart in the place of a log",
        does: r"printf 'time_s,pressure_micron\n0,300\n60,310\n120,320\n' > a.csv; cp a.csv b.csv
            dryhold rise a.csv --svg a.csv; status=$?; cmp a.csv b.csv && exit $status",
        status: 2,
        says: "the chart was not written: `a.csv` is there already",
    },
    Rough {
        what: "a chart through a link to another file",
        does: r"printf 'time_s,pressure_micron\n0,300\n60,310\n120,320\n' > a.csv; echo mine > b; ln -s b c.svg
            dryhold rise a.csv --svg c.svg --force; cat b; test -L c.svg && exit 1; exit 0",
        status: 0,
        says: "mine",
    },
    Rough {
        what: "a chart in a folder that is not there",
        does: r"printf 'time_s,pressure_micron\n0,300\n60,310\n' > a.csv; dryhold rise a.csv --svg b/c.svg",
        status: 2,
        says: "the chart `b/c.svg` can't be written",
    },
    Rough {
        what: "an option of a hold that is no volume",
        does: "echo '0 min 300, 5 min 310 micron' | dryhold rise - --volume '3 degC'",
        status: 2,
        says: "--volume",
    },
    Rough {
        what: "a watch of which nothing comes",
        does: "dryhold watch < /dev/null",
        status: 3,
        says: "0 readings don't tell how it rises",
    },
    Rough {
        what: "a watch of noise",
        does: "head -c 3000 /dev/urandom | dryhold watch > a; tail -1 a",
        status: 0,
        says: "Go on reading",
    },
    Rough {
        what: "a watch that is to be kept in a folder",
        does: "dryhold watch --log hollow < /dev/null",
        status: 2,
        says: "`hollow` is no file that readings can be kept in",
    },
    Rough {
        what: "a watch that is to be kept on a full device",
        does: "echo 420 | dryhold watch --log /dev/full",
        status: 2,
        says: "`/dev/full` is no file that readings can be kept in",
    },
];

#[test]
fn logs_as_loggers_editors_and_mischief_leave_them() {
    super::hold(TABLE);
}
