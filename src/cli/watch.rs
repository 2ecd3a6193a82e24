//! `barrelhead make --watch`: makes a design anew whenever one of its files is saved.
//!
//! The folders are watched, not the files, since editors save by putting a new file in the old one's
//! place. What decides is a file's text: an event only wakes, and so does a second gone by, so that a
//! disk which sends no events is watched as well.

use std::collections::BTreeMap;
use std::io::{self, IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use notify::{RecommendedWatcher, RecursiveMode, Watcher as _};

use super::arguments::MakeArguments;
use super::style::{STRONG, clean, paint};
use super::{Said, Status, make, verdicts};
use crate::input::{bytes_now, files_asked_for};

/// A save is over when nothing has happened for so long.
const QUIET: Duration = Duration::from_millis(30);
/// How long a file that was there may be away: some editors move it before they write.
const AWAY: Duration = Duration::from_millis(500);
/// Looked at so often without an event.
const UNPROMPTED: Duration = Duration::from_secs(1);

/// Text of every file; `None` where it cannot be read, or is too large to be a parameter file.
type Texts = BTreeMap<PathBuf, Option<Vec<u8>>>;

fn texts(main: &Path) -> Texts {
    files_asked_for(main)
        .into_iter()
        .map(|path| {
            let text = bytes_now(&path);
            (path, text)
        })
        .collect()
}

/// Makes, shows, waits, and so on; ends only where nobody reads what it says any more.
pub fn run(arguments: &MakeArguments) -> Said {
    let main = &arguments.file;
    loop {
        // Before making: what is saved meanwhile is not missed.
        let made_from = texts(main);
        let (events, watcher) = watched(&made_from);
        let said = make::run(arguments);
        // Says for itself how things stand, and ends the watch.
        if said.status == Status::Failed {
            return said;
        }
        if show(said, &made_from, watcher.is_some()).is_err() {
            return Said::done("");
        }
        wait_for_change(main, &made_from, &events);
        drop(watcher);
    }
}

/// Watches the folders of these files; without events where the system gives none.
fn watched(texts: &Texts) -> (Receiver<()>, Option<RecommendedWatcher>) {
    let (told, events) = channel();
    let watcher = notify::recommended_watcher(move |_| {
        // Nobody listens any more once the next round has begun.
        let _ = told.send(());
    });
    let Ok(mut watcher) = watcher else {
        return (events, None);
    };
    let mut folders: Vec<&Path> = texts.keys().filter_map(|path| path.parent()).collect();
    folders.sort_unstable();
    folders.dedup();
    for folder in folders {
        let folder = if folder.as_os_str().is_empty() {
            Path::new(".")
        } else {
            folder
        };
        // A folder that is not there yet is seen at the next look without an event.
        let _ = watcher.watch(folder, RecursiveMode::NonRecursive);
    }
    (events, Some(watcher))
}

/// Returns when a file's text differs from what it was and stays as it is for a moment.
fn wait_for_change(main: &Path, before: &Texts, events: &Receiver<()>) {
    loop {
        pause(events, UNPROMPTED);
        while pause(events, QUIET) {}
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

/// Shows what a round said in the place of what stood there; plain lines where that is no terminal.
fn show(said: Said, texts: &Texts, told: bool) -> io::Result<()> {
    if io::stdout().is_terminal() {
        let mut out = io::stdout();
        out.write_all(b"\x1b[2J\x1b[3J\x1b[H")?;
        out.flush()?;
    }
    let good = said.status == Status::Done;
    said.print();
    let names: Vec<String> = texts
        .keys()
        .map(|path| clean(&path.display().to_string()))
        .collect();
    let state = if good {
        String::new()
    } else {
        verdicts::note("Nothing was written; save a mended file and it is tried again.")
    };
    let how = if told {
        ""
    } else {
        "once a second, as the system tells of no saves; "
    };
    let line = format!(
        "{state}{} {} ({how}Ctrl-C ends it)\n",
        paint(STRONG, "Watching"),
        names.join(", ")
    );
    let mut out = anstream::stdout();
    out.write_all(line.as_bytes())?;
    out.flush()
}
