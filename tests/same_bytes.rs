//! The same file gives the same bytes: for any count of threads, language, time zone, home, working
//! folder and way to name the file.

#![allow(clippy::expect_used)] // a test that cannot set up its case should say so and fail

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A plain head, one with a rig and blocks of two kinds, and one with measured readings.
const DEMOS: [&str; 3] = ["sandpiper", "curlew", "snipe"];

/// What surrounds a run: threads, variables set, and whether the file is named from the root.
struct Surroundings {
    threads: &'static str,
    variables: &'static [(&'static str, &'static str)],
    absolute: bool,
}

const PLAIN: Surroundings = Surroundings {
    threads: "1",
    variables: &[("LC_ALL", "C"), ("TZ", "UTC"), ("HOME", "/")],
    absolute: false,
};

// A locale that is not installed is passed on all the same: a program that asked for it would differ
// where it is.
const OTHERS: [Surroundings; 4] = [
    PLAIN,
    Surroundings {
        threads: "2",
        variables: &[("LANG", "de_DE.UTF-8"), ("LC_ALL", "de_DE.UTF-8")],
        absolute: true,
    },
    Surroundings {
        threads: "7",
        variables: &[("LC_ALL", "tr_TR.UTF-8"), ("TZ", "Pacific/Kiritimati")],
        absolute: false,
    },
    Surroundings {
        threads: "3",
        variables: &[
            ("LANG", "C"),
            ("LC_NUMERIC", "de_DE.UTF-8"),
            ("TZ", "America/St_Johns"),
            ("COLUMNS", "40"),
            ("CLICOLOR_FORCE", "1"),
            ("SOURCE_DATE_EPOCH", "1"),
        ],
        absolute: true,
    },
];

/// Every file below the folder, by its name there.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(&next).expect("a folder of files") {
            let path = entry.expect("a file in it").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("below the folder");
                found.insert(
                    name.to_path_buf(),
                    fs::read(&path).expect("a file just written"),
                );
            }
        }
    }
    found
}

/// Makes a demo, with all that can be asked for, from a folder of its own.
fn made(demo: &str, round: &Surroundings) -> BTreeMap<PathBuf, Vec<u8>> {
    let place = tempfile::tempdir().expect("a temporary folder");
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("params");
    let (working, file) = if round.absolute {
        (
            place.path().to_path_buf(),
            root.join(format!("{demo}.toml")),
        )
    } else {
        (root, PathBuf::from(format!("{demo}.toml")))
    };
    let out = place.path().join("out");
    let mut command = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
    command
        .env_clear()
        .env("RAYON_NUM_THREADS", round.threads)
        .envs(round.variables.iter().copied())
        .current_dir(working)
        .arg("make")
        .arg(file)
        .arg("--out")
        .arg(&out)
        .args(["--mock", "--units", "both", "--neck-stub", "60"]);
    let output = command.output().expect("the program runs");
    assert!(
        output.status.success(),
        "{demo}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    files(&out)
}

#[test]
fn surroundings_change_no_byte() {
    for demo in DEMOS {
        let plain = made(demo, &PLAIN);
        assert!(plain.len() >= 20, "{demo}: {} files", plain.len());
        for (index, round) in OTHERS.iter().enumerate() {
            let other = made(demo, round);
            let names = |files: &BTreeMap<PathBuf, Vec<u8>>| files.keys().cloned().collect();
            let (a, b): (Vec<_>, Vec<_>) = (names(&plain), names(&other));
            assert_eq!(a, b, "{demo}, surroundings {index}: names of the files");
            for (name, bytes) in &plain {
                let at = bytes.iter().zip(&other[name]).position(|(a, b)| a != b);
                assert!(
                    *bytes == other[name],
                    "{demo}, surroundings {index}: {} differs from byte {at:?}",
                    name.display()
                );
            }
        }
    }
}
