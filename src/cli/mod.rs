//! The command line: parses, calls, hands back. The only place that prints.

mod arguments;
mod demo;
mod disk;
mod help;
mod look_command;
mod record_command;
mod report_command;
mod say;

use std::process::ExitCode;

use crate::report;
use arguments::Command;

/// Done.
const DONE: u8 = 0;
/// Done, but a scan is unfit.
const UNFIT: u8 = 1;
/// Refused with a message.
const REFUSED: u8 = 2;

/// Runs the command that the arguments (without the program's name) name.
pub fn run(arguments: &[String]) -> ExitCode {
    let outcome = match arguments::parse(arguments) {
        Ok(Command::Help(topic)) => {
            say::out(help::text(topic));
            Ok(DONE)
        }
        Ok(Command::Version) => {
            say::out(&crate::report::software());
            Ok(DONE)
        }
        Ok(Command::Report { record, out, language }) => {
            report_command::run(&record, &out, report::wording::of(&language))
        }
        Ok(Command::Record { folder, out }) => record_command::run(&folder, out.as_deref()),
        Ok(Command::Look { file, values }) => look_command::run(&file, values.as_deref()),
        Ok(Command::Page) => demo::page(),
        Ok(Command::Demo) => demo::demo().map(|_| DONE),
        Ok(Command::Show) => demo::show(),
        Err(message) => Err(message),
    };
    ExitCode::from(outcome.unwrap_or_else(|message| {
        say::err(&message);
        REFUSED
    }))
}
