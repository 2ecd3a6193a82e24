//! `barrelhead make --watch`: makes a design anew whenever one of its files is saved.
//!
//! The folders are watched, not the files, since editors save by putting a new file in the old one's
//! place. What decides is a file's text: an event only wakes, and so does a second gone by, so that a
//! disk which sends no events is watched as well.

mod places;

use std::collections::BTreeMap;
use std::io::{self, ErrorKind, IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::time::{Duration, Instant};

use super::arguments::MakeArguments;
use super::make::{self, End};
use super::style::{STRONG, clean, paint};
use super::{Said, Status, broken_output, verdicts};
use crate::input::{bytes_now, files_asked_for};

/// A save is over when nothing has happened for so long.
const QUIET: Duration = Duration::from_millis(30);
/// Waited for that at most: a file that is written to all the time is made as it stands.
const LONGEST_SAVE: Duration = Duration::from_millis(200);
/// How long a file that was there may be away: some editors move it before they write.
const AWAY: Duration = Duration::from_millis(500);
/// Looked at so often without an event.
const UNPROMPTED: Duration = Duration::from_secs(1);

/// Text of every file; `None` where it cannot be read, or is too large to be a parameter file.
type Texts = BTreeMap<PathBuf, Option<Vec<u8>>>;

fn texts(main: &Path) -> Texts {
    files_asked_for(main)
        .into_iter()
        .map(|path| (path.clone(), bytes_now(&path)))
        .collect()
}

/// Makes, shows, waits, and so on. It ends where nobody reads what it says any more, and where the
/// command line itself is wrong: no save could mend that.
pub fn run(arguments: &MakeArguments) -> Said {
    let main = &arguments.file;
    let mut screen = Screen::of(arguments);
    let mut made_once = false;
    loop {
        // Before making: what is saved meanwhile is not missed.
        let made_from = texts(main);
        let watch = places::watch(made_from.keys());
        let (said, end) = make::attempt(arguments);
        let nameless = made_from.get(main).is_none_or(Option::is_none);
        if !made_once && (end == End::Place || nameless) {
            return said;
        }
        made_once |= end == End::Made;
        if let Err(error) = screen.show(&said, end, &made_from, watch.whole) {
            let mut last = Said::done("");
            last.status = if error.kind() == ErrorKind::BrokenPipe {
                Status::Done
            } else {
                broken_output(&error)
            };
            return last;
        }
        wait_for_change(main, &made_from, &watch.events);
    }
}

/// Returns when a file's text differs from what it was and stays as it is for a moment.
fn wait_for_change(main: &Path, before: &Texts, events: &Receiver<()>) {
    loop {
        pause(events, UNPROMPTED);
        settle(|longest| pause(events, longest));
        let mut now = texts(main);
        let since = Instant::now();
        let away = |now: &Texts| {
            let there = |(path, text): (&PathBuf, &Option<Vec<u8>>)| {
                text.is_some() || before.get(path).is_none_or(Option::is_none)
            };
            !now.iter().all(there)
        };
        while away(&now) && since.elapsed() < AWAY {
            pause(events, QUIET);
            now = texts(main);
        }
        if now != *before {
            return;
        }
    }
}

/// Waits until a save is over, or has taken too long; `happened` waits so long for an event.
fn settle(mut happened: impl FnMut(Duration) -> bool) {
    let since = Instant::now();
    while happened(QUIET) && since.elapsed() < LONGEST_SAVE {}
}

/// Waits for an event; false where none came in time.
fn pause(events: &Receiver<()>, longest: Duration) -> bool {
    match events.recv_timeout(longest) {
        Ok(()) => true,
        Err(RecvTimeoutError::Timeout) => false,
        // Without a watcher time alone wakes.
        Err(RecvTimeoutError::Disconnected) => {
            std::thread::sleep(longest);
            false
        }
    }
}

/// Where rounds are shown.
struct Screen {
    /// Standard output is for the names of files alone; all else goes to standard error.
    names_only: bool,
    /// A round takes the place of the one before it; else a line parts them.
    in_place: bool,
    begun: bool,
}

impl Screen {
    fn of(arguments: &MakeArguments) -> Screen {
        let known = std::env::var_os("TERM").is_some_and(|kind| !kind.is_empty() && kind != "dumb");
        Screen {
            names_only: arguments.quiet,
            in_place: !arguments.quiet && io::stdout().is_terminal() && known,
            begun: false,
        }
    }

    /// Shows what a round said, and what is watched.
    fn show(&mut self, said: &Said, end: End, texts: &Texts, told: bool) -> io::Result<()> {
        if self.in_place {
            // The screen alone: what was scrolled off before the watch began is not ours.
            let mut out = io::stdout();
            out.write_all(b"\x1b[2J\x1b[H")?;
            out.flush()?;
        } else if self.begun {
            self.line(&format!("{}\n", "-".repeat(PARTED)))?;
        }
        self.begun = true;
        said.write()?;
        self.line(&state(end, texts, told))
    }

    fn line(&self, text: &str) -> io::Result<()> {
        if self.names_only {
            return anstream::stderr().write_all(text.as_bytes());
        }
        let mut out = anstream::stdout();
        out.write_all(text.as_bytes())?;
        out.flush()
    }
}

/// Columns of the line between two rounds.
const PARTED: usize = 40;

/// How the round ended, and what is watched.
fn state(end: End, texts: &Texts, told: bool) -> String {
    let next = match end {
        End::Made => String::new(),
        End::Faulty => {
            verdicts::note("Nothing was written; save a mended file and it is tried again.")
        }
        End::Place | End::Failed => verdicts::note("It is tried again at the next save."),
    };
    let names: Vec<String> = texts
        .keys()
        .map(|path| clean(&path.display().to_string()))
        .collect();
    let how = if told {
        ""
    } else {
        "looking once a second, since the system does not tell of every save; "
    };
    format!(
        "{next}{} {} ({how}Ctrl-C ends it)\n",
        paint(STRONG, "Watching"),
        names.join(", ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A file that is written to all the time still gets its turn.
    #[test]
    fn a_save_that_does_not_end_is_not_waited_for() {
        let since = Instant::now();
        settle(|_| {
            std::thread::sleep(Duration::from_millis(5));
            assert!(
                since.elapsed() < Duration::from_secs(20),
                "it waits for ever"
            );
            true
        });
        // One that is over is not waited for either.
        let mut asked = 0;
        settle(|_| {
            asked += 1;
            false
        });
        assert_eq!(asked, 1);
    }

    #[test]
    fn every_end_says_what_comes_next() {
        let texts: Texts = [("mine.toml".into(), None)].into();
        let plain = |end, told| anstream::adapter::strip_str(&state(end, &texts, told)).to_string();
        assert_eq!(
            plain(End::Made, true),
            "Watching mine.toml (Ctrl-C ends it)\n"
        );
        assert!(plain(End::Faulty, true).contains("save a mended file"));
        for end in [End::Place, End::Failed] {
            let said = plain(end, true);
            assert!(said.contains("tried again at the next save"), "{said}");
            assert!(!said.contains("mended"), "{said}");
        }
        assert!(plain(End::Made, false).contains("once a second"));
        assert!(!plain(End::Made, true).contains("once a second"));
    }
}
