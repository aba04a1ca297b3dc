//! The `dryhold` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    dryhold::cli::run(std::env::args_os(), &mut out, &mut err).into()
}
