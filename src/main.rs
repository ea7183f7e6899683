//! The command line of decalwright.

mod command;

fn main() -> std::process::ExitCode {
    command::run()
}
