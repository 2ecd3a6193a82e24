//! The places on disk where a save of the watched files shows, and the watch on their folders.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};

use notify::event::{AccessKind, AccessMode};
use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher as _};

/// More links in a row than any system follows.
const MOST_LINKS: usize = 40;

/// A watch that was set, as far as the system let it.
pub(super) struct Watch {
    /// One for every event that may be a save.
    pub events: Receiver<()>,
    /// Whether saves of every file are told of.
    pub whole: bool,
    /// Ends the watch when dropped.
    _watcher: Option<RecommendedWatcher>,
}

/// Watches the folders of files, and of what they link to.
pub(super) fn watch<'a>(files: impl Iterator<Item = &'a PathBuf>) -> Watch {
    let (told, events) = channel();
    let places: BTreeSet<PathBuf> = files.flat_map(|file| places_of(file)).collect();
    let folders: BTreeSet<PathBuf> = places
        .iter()
        .filter_map(|place| place.parent().map(Path::to_path_buf))
        .collect();
    let watcher = notify::recommended_watcher(move |event: notify::Result<Event>| {
        // What went wrong may have been a save; a look costs little.
        if event
            .as_ref()
            .map_or(true, |event| may_be_a_save(event, &places))
        {
            // Nobody listens any more once the next round has begun.
            let _ = told.send(());
        }
    });
    let Ok(mut watcher) = watcher else {
        return Watch {
            events,
            whole: false,
            _watcher: None,
        };
    };
    let mut whole = true;
    for folder in folders {
        whole &= watcher.watch(&folder, RecursiveMode::NonRecursive).is_ok();
    }
    Watch {
        events,
        whole,
        _watcher: Some(watcher),
    }
}

/// Where a file is, and where each link leads on the way to what it really is: folders without links,
/// as the system names them in its events.
fn places_of(file: &Path) -> Vec<PathBuf> {
    let mut places = Vec::new();
    let mut next = Some(file.to_path_buf());
    while let Some(path) = next.take().filter(|_| places.len() < MOST_LINKS) {
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_path_buf(),
            _ => PathBuf::from("."),
        };
        let Some(name) = path.file_name() else {
            break;
        };
        next = std::fs::read_link(&path).ok().map(|to| folder.join(to));
        // A folder that is not there cannot be watched, which is told of.
        places.push(std::fs::canonicalize(&folder).unwrap_or(folder).join(name));
    }
    places
}

/// Whether an event can have changed the text at one of these places. Opening and reading change
/// nothing: our own looks would wake us, and so would anybody else's.
fn may_be_a_save(event: &Event, places: &BTreeSet<PathBuf>) -> bool {
    let touches = match event.kind {
        EventKind::Access(kind) => kind == AccessKind::Close(AccessMode::Write),
        _ => true,
    };
    // A folder that is moved or taken away takes its files along.
    let concerns = |path: &PathBuf| {
        places.contains(path) || places.iter().any(|place| place.parent() == Some(path))
    };
    event.need_rescan() || touches && event.paths.iter().any(concerns)
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use notify::event::{CreateKind, DataChange, Flag, ModifyKind, RemoveKind, RenameMode};

    use super::*;

    fn event(kind: EventKind, paths: &[&str]) -> Event {
        paths
            .iter()
            .fold(Event::new(kind), |event, path| event.add_path(path.into()))
    }

    #[test]
    fn what_may_be_a_save() {
        let places: BTreeSet<PathBuf> = ["/a/mine.toml".into(), "/b/set.toml".into()].into();
        let data = EventKind::Modify(ModifyKind::Data(DataChange::Any));
        let rename = EventKind::Modify(ModifyKind::Name(RenameMode::Both));
        let opened = EventKind::Access(AccessKind::Open(AccessMode::Any));
        let read = EventKind::Access(AccessKind::Close(AccessMode::Read));
        let written = EventKind::Access(AccessKind::Close(AccessMode::Write));
        let created = EventKind::Create(CreateKind::File);
        let removed = EventKind::Remove(RemoveKind::Folder);
        for (kind, paths, expected) in [
            (data, &["/a/mine.toml"][..], true),
            (written, &["/b/set.toml"], true),
            (created, &["/a/mine.toml"], true),
            (rename, &["/a/mine.toml.new", "/a/mine.toml"], true),
            (removed, &["/b"], true),
            (opened, &["/a/mine.toml"], false),
            (read, &["/a/mine.toml"], false),
            (data, &["/a/other.toml"], false),
            (written, &["/a/mine.toml.new"], false),
            (rename, &["/a/x", "/a/y"], false),
            (removed, &["/a/sub"], false),
        ] {
            let event = event(kind, paths);
            assert_eq!(may_be_a_save(&event, &places), expected, "{event:?}");
        }
        let missed = Event::new(EventKind::Other).set_flag(Flag::Rescan);
        assert!(may_be_a_save(&missed, &places));
    }

    /// Reading is no event and writing is one, at the file and behind two links.
    #[cfg(unix)]
    #[test]
    fn a_file_behind_links_is_watched_where_it_is() {
        use std::os::unix::fs::symlink;

        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for name in ["here", "between", "there"] {
            std::fs::create_dir(path(name)).unwrap();
        }
        std::fs::write(path("there/real.toml"), "a").unwrap();
        symlink("../there/real.toml", path("between/link.toml")).unwrap();
        symlink("../between/link.toml", path("here/mine.toml")).unwrap();
        let mine = path("here/mine.toml");
        let found = places_of(&mine);
        let root = std::fs::canonicalize(folder.path()).unwrap();
        let expected = ["here/mine.toml", "between/link.toml", "there/real.toml"];
        assert_eq!(found, expected.map(|name| root.join(name)));

        let watch = watch([&mine].into_iter());
        assert!(watch.whole);
        std::fs::read(&mine).unwrap();
        std::fs::write(path("there/other.toml"), "b").unwrap();
        assert!(
            watch
                .events
                .recv_timeout(Duration::from_millis(300))
                .is_err()
        );
        std::fs::write(path("there/real.toml"), "b").unwrap();
        assert!(watch.events.recv_timeout(Duration::from_secs(60)).is_ok());
    }

    #[test]
    fn a_link_to_itself_ends_and_a_missing_folder_is_told() {
        let folder = tempfile::tempdir().unwrap();
        #[cfg(unix)]
        {
            let itself = folder.path().join("itself.toml");
            std::os::unix::fs::symlink("itself.toml", &itself).unwrap();
            assert_eq!(places_of(&itself).len(), MOST_LINKS);
        }
        assert!(!watch([&folder.path().join("gone/mine.toml")].into_iter()).whole);
        assert!(watch([&folder.path().join("mine.toml")].into_iter()).whole);
    }
}
