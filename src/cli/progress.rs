//! What a long run is working on, for someone who waits at a terminal.

use std::io::Write;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{JoinHandle, spawn};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};

/// Nothing is shown of work that is done sooner.
pub const PATIENCE: Duration = Duration::from_secs(1);

/// One line that names the present stage, wiped away at the end.
pub struct Progress {
    line: Option<(Sender<&'static str>, JoinHandle<()>)>,
}

impl Progress {
    /// Shows nothing.
    pub fn silent() -> Progress {
        Progress { line: None }
    }

    /// Shows the stage on `screen` once `patience` is over.
    pub fn on(mut screen: impl Write + Send + 'static, patience: Duration) -> Progress {
        let (sender, stages) = channel();
        let thread = spawn(move || show(&mut screen, patience, &stages));
        Progress {
            line: Some((sender, thread)),
        }
    }

    /// A stage begins.
    pub fn tell(&mut self, stage: &'static str) {
        if let Some((sender, _)) = &self.line {
            // A screen that cannot be written any more is no reason to stop the work.
            let _ = sender.send(stage);
        }
    }

    /// Wipes the line; the screen is free for what follows.
    pub fn finish(self) {
        if let Some((sender, thread)) = self.line {
            drop(sender);
            let _ = thread.join();
        }
    }
}

fn show(screen: &mut impl Write, patience: Duration, stages: &Receiver<&'static str>) {
    let begun = Instant::now();
    let mut stage = "";
    loop {
        match stages.recv_timeout(patience.saturating_sub(begun.elapsed())) {
            Ok(next) => stage = next,
            Err(RecvTimeoutError::Disconnected) => return,
            Err(RecvTimeoutError::Timeout) => break,
        }
    }
    let mut wide = 0;
    loop {
        let line = format!("{stage} ...");
        wide = wide.max(line.len());
        // Blanks instead of a control sequence: they wipe on every terminal.
        let _ = write!(screen, "\r{line:<wide$}");
        let _ = screen.flush();
        match stages.recv() {
            Ok(next) => stage = next,
            Err(_) => break,
        }
    }
    let _ = write!(screen, "\r{:<wide$}\r", "");
    let _ = screen.flush();
}

/// A bar on a terminal; nothing anywhere else.
pub fn bar(count: usize, doing: &'static str, silent: bool) -> ProgressBar {
    if silent {
        return ProgressBar::hidden();
    }
    // Drawn on standard error, and only where that is a terminal.
    let bar = ProgressBar::new(count as u64);
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len} {msg}") {
        bar.set_style(style);
    }
    bar.set_message(doing);
    bar
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::{Arc, Mutex};

    #[derive(Clone, Default)]
    struct Screen(Arc<Mutex<Vec<u8>>>);

    impl Screen {
        fn text(&self) -> String {
            String::from_utf8(self.0.lock().unwrap().clone()).unwrap()
        }
    }

    impl Write for Screen {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0.lock().unwrap().extend_from_slice(bytes);
            Ok(bytes.len())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn short_work_shows_nothing() {
        let screen = Screen::default();
        let mut progress = Progress::on(screen.clone(), Duration::from_secs(3600));
        progress.tell("building");
        progress.finish();
        assert_eq!(screen.text(), "");
    }

    #[test]
    fn long_work_names_its_stage_and_wipes_it() {
        let screen = Screen::default();
        let mut progress = Progress::on(screen.clone(), Duration::ZERO);
        progress.tell("building the head");
        while !screen.text().contains("building the head ...") {
            std::thread::yield_now();
        }
        progress.tell("writing");
        progress.finish();
        let text = screen.text();
        // The shorter line covers the longer one, and the last is blank.
        assert!(text.contains("\rwriting ...          \r"), "{text:?}");
        assert!(
            text.ends_with(&format!("\r{}\r", " ".repeat(21))),
            "{text:?}"
        );
    }
}
