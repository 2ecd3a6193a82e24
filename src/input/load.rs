//! The bytes of a parameter file: read at once or not at all, with a size limit, and decoded.

use std::fs::{File, Metadata};
use std::io::{ErrorKind, Read as _};
use std::path::Path;

/// Largest parameter file read, in bytes (1 MiB). A whole design is a few thousand.
pub const LARGEST_FILE: u64 = 1 << 20;

/// Why a file gave no text.
#[derive(Debug)]
pub(crate) struct LoadError {
    /// A predicate, such as "does not exist".
    pub message: String,
    /// What to do.
    pub hint: Option<String>,
    /// 1-based line and its text, where one line is at fault.
    pub spot: Option<(usize, String)>,
}

impl LoadError {
    fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        LoadError {
            message: message.into(),
            hint: Some(hint.into()),
            spot: None,
        }
    }
}

/// Reads a file as UTF-8 text, with or without a byte-order mark.
pub(crate) fn load(path: &Path) -> Result<String, LoadError> {
    decode(load_bytes(path)?)
}

/// The bytes of a file, where it may be a parameter file and can be read now.
pub fn bytes_now(path: &Path) -> Option<Vec<u8>> {
    load_bytes(path).ok()
}

fn load_bytes(path: &Path) -> Result<Vec<u8>, LoadError> {
    // To open a device can set it to work, so it is looked at first; and once more when it is open, as
    // another may stand there by then.
    examine(&std::fs::metadata(path).map_err(failed)?)?;
    let file = open_at_once(path).map_err(failed)?;
    examine(&file.metadata().map_err(failed)?)?;
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE + 1)
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(too_large());
    }
    Ok(bytes)
}

/// Opens a file and never waits: not for the other end of a pipe, nor in reading for what only looks
/// like a file and has nothing to say yet.
fn open_at_once(path: &Path) -> std::io::Result<File> {
    let mut options = File::options();
    options.read(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.custom_flags(libc::O_NONBLOCK);
    }
    options.open(path)
}

/// Refuses what is no file of a fitting size.
fn examine(meta: &Metadata) -> Result<(), LoadError> {
    if meta.is_dir() {
        return Err(LoadError::new(
            "is a folder",
            "the path of a parameter file, ending in .toml",
        ));
    }
    // A pipe may never end, or never begin; and a design is read again for its room to move.
    if !meta.is_file() {
        return Err(no_file());
    }
    if meta.len() > LARGEST_FILE {
        return Err(too_large());
    }
    Ok(())
}

fn no_file() -> LoadError {
    LoadError::new(
        "is a pipe or a device, not a file on a disk",
        "the path of a parameter file, ending in .toml",
    )
}

fn too_large() -> LoadError {
    LoadError::new(
        "is larger than 1 MiB, so it is not a parameter file",
        "the path of a parameter file, ending in .toml",
    )
}

/// The system's reason in words.
fn failed(error: std::io::Error) -> LoadError {
    let there = "the path of a parameter file that is there";
    match error.kind() {
        ErrorKind::NotFound => LoadError::new("does not exist", there),
        ErrorKind::NotADirectory => LoadError::new(
            "does not exist: its path leads through a file as if that were a folder",
            there,
        ),
        ErrorKind::InvalidFilename => LoadError::new(
            "cannot be read: its name is too long, or not allowed by the system",
            there,
        ),
        ErrorKind::PermissionDenied => LoadError::new(
            "may not be read",
            "the path of a file that you have leave to read",
        ),
        // Some devices look like files.
        ErrorKind::WouldBlock => no_file(),
        _ => LoadError {
            message: format!("cannot be read: {error}"),
            hint: None,
            spot: None,
        },
    }
}

fn decode(bytes: Vec<u8>) -> Result<String, LoadError> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(LoadError::new(
            "is UTF-16 text",
            "the same text, saved by the editor as UTF-8",
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let byte = bytes.get(good).copied().unwrap_or_default();
        let head = bytes.get(..good).unwrap_or_default();
        let line = head.iter().filter(|b| **b == b'\n').count();
        let whole = bytes.split(|b| *b == b'\n').nth(line).unwrap_or_default();
        LoadError {
            message: format!("is not UTF-8 text: this line holds the byte 0x{byte:02X}"),
            hint: Some("the same text, saved by the editor as UTF-8".to_owned()),
            spot: Some((
                line + 1,
                String::from_utf8_lossy(whole).trim_end().to_owned(),
            )),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wrong_byte_is_named_with_its_line() {
        let error = decode(b"a = 1\nb = \"\xe9\"\n".to_vec()).unwrap_err();
        assert!(error.message.contains("0xE9"));
        assert_eq!(error.spot.unwrap().0, 2);
        assert!(
            decode(vec![0xff, 0xfe, b'a', 0])
                .unwrap_err()
                .message
                .contains("UTF-16")
        );
    }
    /// A pipe that comes to a file's place after the look at it: opening it does not wait for a writer,
    /// and what is open then is refused.
    #[cfg(unix)]
    #[test]
    fn a_pipe_put_in_place_of_a_file_is_not_waited_for() {
        let folder = tempfile::tempdir().unwrap();
        let pipe = folder.path().join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        assert!(made.is_ok_and(|status| status.success()), "needs mkfifo");
        let (told, done) = std::sync::mpsc::channel();
        let at = pipe.clone();
        std::thread::spawn(move || {
            let opened = open_at_once(&at).unwrap();
            let found = examine(&opened.metadata().unwrap()).unwrap_err();
            told.send(found.message).unwrap();
        });
        let said = done.recv_timeout(std::time::Duration::from_secs(10));
        assert_eq!(said.unwrap(), "is a pipe or a device, not a file on a disk");
    }

    #[test]
    fn the_systems_own_words_are_not_shown_where_there_are_better_ones() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        std::fs::write(&file, "a = 1").unwrap();
        for (path, words) in [
            (file.join("x.toml"), "leads through a file"),
            (folder.path().join("x".repeat(300)), "name is too long"),
        ] {
            let said = load(&path).unwrap_err().message;
            assert!(said.contains(words) && !said.contains("os error"), "{said}");
        }
    }
}
