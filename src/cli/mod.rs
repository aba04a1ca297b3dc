//! Arguments, exit status, one file per command.
