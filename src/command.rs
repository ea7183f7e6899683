//! The command line: arguments, files and talking to the person. Nothing else prints.

mod list;
mod test_print;

use decalwright::files::{self, Folder, Outside, Writing};
use decalwright::finding::{Findings, Sources, Styling, as_json, as_text};
use decalwright::job::{self, Content, FileKind, Previews};

use list::{ExplainArgs, ListArgs};
use test_print::{PrinterArgs, TestPrint};

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::io::{IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::mpsc;
use std::time::Duration;

/// One YAML spec in; true-size film sheets, previews, a layout and a placement list out.
#[derive(Debug, Parser)]
#[command(version, about)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Lay out a job and write its sheets, previews, layout and placement list.
    Sheet(SheetArgs),
    /// Write the markers of a job's wires and the sheets to check the wiring with; a table of wires will do.
    Wires(SheetArgs),
    /// Show a job's labels as seen on their surfaces, in pictures and on a page for a browser, findings marked.
    Proof(SheetArgs),
    /// Report what is wrong with a job; write nothing.
    Check(JobArgs),
    /// Write a page to print and read off: what does the printer do to lengths, lines, letters and colours?
    #[command(subcommand)]
    TestPrint(TestPrint),
    /// Make a printer's profile of what you read off its test prints.
    Printer(PrinterArgs),
    /// List what there is: codes of findings.
    List(ListArgs),
    /// Explain a finding by its code: what it means, what to do, whether it can be accepted.
    Explain(ExplainArgs),
    /// Print the JSON Schema of job files or printers' profiles, for editors.
    Schema {
        /// Of which files.
        #[arg(value_enum, default_value_t = SchemaOf::Job)]
        of: SchemaOf,
    },
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum SchemaOf {
    /// Jobs.
    Job,
    /// Printers' profiles, and the answers they are made of.
    Profile,
}

#[derive(Debug, Args)]
struct JobArgs {
    /// The job's YAML file.
    job: PathBuf,
    /// Give the findings as JSON.
    #[arg(long)]
    json: bool,
    /// Let the job name tables and fonts outside its own folder.
    #[arg(long)]
    allow_outside: bool,
}

#[derive(Debug, Args)]
struct SheetArgs {
    #[command(flatten)]
    job: JobArgs,
    /// Where to write; a folder beside the job named after it when not given.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Skip the PNG previews.
    #[arg(long)]
    no_previews: bool,
}

/// How a command ends: its exit code, or what stopped it, which is exit code 2.
type Ended = Result<ExitCode, Box<dyn std::error::Error>>;

/// The largest job file that is read at all; the spec's own limit is far below.
const LARGEST_JOB: u64 = 16 * 1024 * 1024;

/// A run that takes longer than this says that it is still at work.
const PATIENCE: Duration = Duration::from_secs(1);

/// Runs the command line: exit code 0 when clean or with warnings, 1 on errors in the job, 2 on wrong use.
pub(crate) fn run() -> ExitCode {
    let ended: Ended = match Cli::parse().command {
        Command::Schema { of } => {
            print(&job::schema(match of {
                SchemaOf::Job => FileKind::Job,
                SchemaOf::Profile => FileKind::Profile,
            }));
            Ok(ExitCode::SUCCESS)
        }
        Command::List(args) => Ok(list::list(&args)),
        Command::Explain(args) => list::explain(&args),
        Command::Check(args) => check(&args),
        Command::Sheet(args) => write(&args, job::lay, job::files),
        Command::Wires(args) => write(&args, job::lay_wires, job::wire_files),
        Command::TestPrint(page) => test_print::test_print(page),
        Command::Printer(args) => test_print::printer(&args),
        Command::Proof(args) => proof(&args),
    };
    ended.unwrap_or_else(|error| {
        print_error(&format!("error: {error}\n"));
        ExitCode::from(2)
    })
}

fn check(args: &JobArgs) -> Ended {
    let outcome = lay(args, job::lay)?;
    show(args, &outcome);
    if let (Some(laid), false) = (&outcome.laid, args.json) {
        print(&job::summary(laid, &outcome.findings));
    }
    Ok(exit_code(&outcome))
}

/// Reads and lays out a job's bytes: [`job::lay`] or one like it.
type Lay = fn(&str, &[u8], &mut files::Fetch<'_>) -> job::Outcome;

/// Makes a job's files: [`job::files`] or one like it.
type Make = for<'a> fn(&'a job::Laid, &str, Previews) -> job::Files<'a>;

fn write(args: &SheetArgs, way: Lay, make: Make) -> Ended {
    let outcome = lay(&args.job, way)?;
    show(&args.job, &outcome);
    let (Some(laid), false) = (&outcome.laid, outcome.findings.any_error()) else {
        print_error("nothing was written: mend the errors first\n");
        return Ok(ExitCode::FAILURE);
    };
    put(args, &outcome, laid, make)?;
    // The run ends here: to give thousands of labels back one by one would only take longer.
    std::mem::forget(outcome);
    Ok(ExitCode::SUCCESS)
}

/// Errors in the job are no reason not to look at it: nothing is printed from a proof.
fn proof(args: &SheetArgs) -> Ended {
    let outcome = lay(&args.job, job::lay)?;
    show(&args.job, &outcome);
    let Some(laid) = &outcome.laid else {
        print_error("nothing was written: mend the errors first\n");
        return Ok(ExitCode::FAILURE);
    };
    let job::Outcome { findings, sources, .. } = &outcome;
    put(args, &outcome, laid, |laid, stem, previews| {
        job::proof_files(laid, findings, sources, stem, previews)
    })?;
    Ok(exit_code(&outcome))
}

/// Writes a job's files and says what it came to.
fn put<'a>(
    args: &SheetArgs,
    outcome: &job::Outcome,
    laid: &'a job::Laid,
    make: impl FnOnce(&'a job::Laid, &str, Previews) -> job::Files<'a>,
) -> Result<(), Box<dyn std::error::Error>> {
    let path = &args.job.job;
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let out = args.out.clone().unwrap_or_else(|| path.with_extension(""));
    let previews = if args.no_previews { Previews::Skipped } else { Previews::Made };
    let files = make(laid, &stem, previews);
    let mut writing = Writing::new(&out, std::slice::from_ref(path));
    let take = &mut |name: &str, content: Content| writing.add(name, |out| content.write_to(out));
    patiently("writing files", || files.hand_over(take))?;
    let written = writing.finish()?;
    if !args.job.json {
        print(&job::summary(laid, &outcome.findings));
        print(&format!("  {written} files in {}\n", out.display()));
    }
    Ok(())
}

fn lay(args: &JobArgs, way: Lay) -> Result<job::Outcome, files::Error> {
    let outside = if args.allow_outside { Outside::Allowed } else { Outside::Refused };
    let (name, bytes, folder) = read_in(&args.job, LARGEST_JOB, outside)?;
    Ok(patiently("laying out the job", || way(&name, &bytes, &mut |name| folder.fetch(name))))
}

/// A file's name, its bytes, and the folder it lies in.
fn read_in(
    path: &Path,
    limit: u64,
    outside: Outside,
) -> Result<(String, Vec<u8>, Folder), files::Error> {
    let bytes = files::read(path, limit)?;
    let beside = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = Folder::new(beside.unwrap_or(Path::new(".")), outside);
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
    Ok((name.unwrap_or_else(|| path.display().to_string()), bytes, folder))
}

/// The same of a file that names nothing outside its folder.
fn read_beside(path: &Path, limit: u64) -> Result<(String, Vec<u8>, Folder), files::Error> {
    read_in(path, limit, Outside::Refused)
}

/// Does the work, and says so on a terminal once it takes long.
fn patiently<R>(what: &str, work: impl FnOnce() -> R) -> R {
    if !std::io::stderr().is_terminal() {
        return work();
    }
    let (done, waiting) = mpsc::channel::<()>();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            if waiting.recv_timeout(PATIENCE) == Err(mpsc::RecvTimeoutError::Timeout) {
                print_error(&format!("{what} …\n"));
            }
        });
        let result = work();
        drop(done);
        result
    })
}

fn show(args: &JobArgs, outcome: &job::Outcome) {
    if args.json {
        print(&as_json(&outcome.findings, &outcome.sources));
    } else {
        report(&outcome.findings, &outcome.sources);
    }
}

/// Shows findings to the person.
fn report(findings: &Findings, sources: &Sources) {
    if !findings.list().is_empty() {
        let coloured = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
        let styling = if coloured { Styling::Terminal } else { Styling::Plain };
        print_error(&as_text(findings, sources, styling));
    }
}

fn exit_code(outcome: &job::Outcome) -> ExitCode {
    if outcome.findings.any_error() || outcome.laid.is_none() {
        ExitCode::FAILURE
    } else {
        ExitCode::SUCCESS
    }
}

/// Writes to standard output; a closed pipe is no reason to fail.
fn print(text: &str) {
    let _ = std::io::stdout().write_all(text.as_bytes());
}

/// Writes to standard error.
fn print_error(text: &str) {
    let _ = std::io::stderr().write_all(text.as_bytes());
}
