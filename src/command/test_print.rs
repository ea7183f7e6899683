//! Test prints, and the printer's profile that is made of them.

use super::{Ended, print, print_error, read_beside, report};
use decalwright::files::{self, Writing};
use decalwright::job;
use decalwright::testprint::{self, Setting, TestPage};
use decalwright::{Colour, Paper, Profile};

use clap::{Args, Subcommand};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The largest profile or file of answers that is read.
const LARGEST: u64 = 1024 * 1024;

/// What answers are called, beside the pages.
const ANSWERS: &str = "answers.yaml";

#[derive(Debug, Subcommand)]
pub(crate) enum TestPrint {
    /// Bars of 100 mm, a square with diagonals, stairs at the edges: does the printer keep lengths?
    Scale(PageArgs),
    /// Lines of 0.05 to 0.50 mm in ink and in clear: how thin may they be?
    Lines(PageArgs),
    /// Capitals of 0.8 to 3.0 mm in ink and in clear: how small may they be?
    Type {
        /// Faces by role or family.
        #[arg(default_value = "label")]
        faces: Vec<String>,
        #[command(flatten)]
        page: PageArgs,
    },
    /// A colour and its neighbours, to lay over the part and pick by eye.
    Colour {
        /// A colour of the job, or its value: "#ad2b24".
        name: String,
        /// The job that gives the colour its name.
        #[arg(long)]
        job: Option<PathBuf>,
        #[command(flatten)]
        page: PageArgs,
    },
    /// Inks in tints, to lay half over black: how opaque are they?
    Inks(PageArgs),
}

#[derive(Debug, Args)]
pub(crate) struct PageArgs {
    /// A3, A4, A5, Letter or Legal; "A4 landscape" lies.
    #[arg(long, default_value = "A4")]
    paper: String,
    /// Where to write.
    #[arg(long, value_name = "DIR", default_value = "test-print")]
    out: PathBuf,
    /// A profile to try: the PDF is corrected by it, so that a second measuring reads true.
    #[arg(long, value_name = "FILE")]
    profile: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct PrinterArgs {
    /// Your name for the printer.
    name: String,
    /// What you read off: the answers.yaml that lies beside the test prints, filled in.
    #[arg(long, value_name = "ANSWERS")]
    from: PathBuf,
    /// The profile to write; printer and paper make its name when not given.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

/// Writes one test print.
pub(crate) fn test_print(wanted: TestPrint) -> Ended {
    let (kind, args) = match wanted {
        TestPrint::Scale(args) => (TestPage::Scale, args),
        TestPrint::Lines(args) => (TestPage::Lines, args),
        TestPrint::Type { faces, page } => (TestPage::Type(faces), page),
        TestPrint::Inks(args) => (TestPage::Inks, args),
        TestPrint::Colour { name, job, page } => {
            let Some(wanted) = colour(&name, job.as_deref())? else {
                return Ok(ExitCode::FAILURE);
            };
            (TestPage::Colour { name, wanted }, page)
        }
    };
    let Some(paper) = Paper::named(&args.paper) else {
        let known = "A3, A4, A5, Letter, Legal, or one of them with landscape";
        return Err(format!("no paper is called {}; there are {known}", args.paper).into());
    };
    let profile = match &args.profile {
        None => None,
        Some(path) => match profile(path)? {
            Some(profile) => Some(profile),
            None => return Ok(ExitCode::FAILURE),
        },
    };
    let setting = Setting { paper: &paper, profile: profile.as_ref() };
    let drawn = testprint::draw(&kind, &setting)?;
    let keep: Vec<PathBuf> = args.profile.iter().cloned().collect();
    let mut writing = Writing::new(&args.out, &keep);
    for (name, bytes) in testprint::files(&drawn, &setting)? {
        writing.add(&name, |out| out.write_all(&bytes))?;
    }
    let tried = profile.as_ref().is_some_and(|profile| profile.correction().is_some());
    // Answers may be filled in already; a corrected page has none.
    if !tried && !args.out.join(ANSWERS).exists() {
        writing.add(ANSWERS, |out| out.write_all(testprint::template(&paper).as_bytes()))?;
    }
    writing.finish()?;
    let out = args.out.display();
    let next = if tried {
        "it is corrected, to try the profile".to_owned()
    } else {
        format!("note what you read off in {out}/{ANSWERS}")
    };
    print(&format!("{out}/{}.pdf: print it at 100 %, no scaling; {next}\n", drawn.name));
    Ok(ExitCode::SUCCESS)
}

/// A colour by its value, or by the name a job gives it; `None` when there is none, which is then reported.
fn colour(name: &str, job: Option<&Path>) -> Result<Option<Colour>, Box<dyn std::error::Error>> {
    if let Some(colour) = Colour::parse(name) {
        return Ok(Some(colour));
    }
    let Some(job) = job else {
        return Err(
            format!("which job names {name}? add --job JOB, or give a value: \"#ad2b24\"").into()
        );
    };
    let (shown, bytes, folder) = read_beside(job, super::LARGEST_JOB)?;
    let read = job::colours(&shown, &bytes, &mut |name| folder.fetch(name));
    report(&read.findings, &read.sources);
    if read.findings.any_error() {
        return Ok(None);
    }
    let colours = read.found.unwrap_or_default();
    let found = colours.get(name).copied();
    if found.is_none() {
        let known: Vec<&str> = colours.keys().map(String::as_str).collect();
        print_error(&format!(
            "error: no colour is called {name} in {}; it has {}\n",
            job.display(),
            known.join(", ")
        ));
    }
    Ok(found)
}

/// A profile that is sound; `None` when it is not, which is then reported.
fn profile(path: &Path) -> Result<Option<Profile>, files::Error> {
    let (name, bytes, folder) = read_beside(path, LARGEST)?;
    let read = job::profile(&name, &bytes, &mut |name| folder.fetch(name));
    report(&read.findings, &read.sources);
    Ok(read.found.filter(|_| !read.findings.any_error()))
}

/// Turns answers into a profile.
pub(crate) fn printer(args: &PrinterArgs) -> Ended {
    let Some(answers) = profile(&args.from)? else {
        print_error("nothing was written: measure again where it says so\n");
        return Ok(ExitCode::FAILURE);
    };
    let name = args.name.trim();
    if name.is_empty() || name.len() > 80 || name.contains(char::is_control) {
        return Err("give the printer a name of 1 to 80 letters".into());
    }
    let made = Profile { printer: name.to_owned(), ..answers };
    let path = args.out.clone().unwrap_or_else(|| testprint::file_name(&made).into());
    let file = path.file_name().map(|file| file.to_string_lossy().into_owned());
    let Some(file) = file else { return Err(format!("{} is no file", path.display()).into()) };
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut writing = Writing::new(folder, std::slice::from_ref(&args.from));
    writing.add(&file, |out| out.write_all(testprint::profile_file(&made, &file).as_bytes()))?;
    writing.finish()?;
    let correction = made
        .words()
        .unwrap_or_else(|| format!("{name}, {}: no correction is needed", made.paper.name));
    print(&format!(
        "{}\n  {correction}\n  in a job beside it: printer: {{profile: {file}}}\n",
        path.display()
    ));
    Ok(ExitCode::SUCCESS)
}
