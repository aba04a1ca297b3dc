//! The `dryhold` command.

use std::process::ExitCode;

use dryhold::cli::{COMPLETES_FOR, complete, run};

fn main() -> ExitCode {
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    match std::env::var_os(COMPLETES_FOR).filter(|shell| !shell.is_empty()) {
        Some(shell) => complete(&shell, std::env::args_os(), &mut out, &mut err).into(),
        None => run(std::env::args_os(), &mut out, &mut err).into(),
    }
}
