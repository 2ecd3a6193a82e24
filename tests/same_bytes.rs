//! The same file gives the same bytes: for any count of threads, language, time zone, home, working
//! folder and way to name the file.

#![allow(clippy::expect_used)] // a test that cannot set up its case should say so and fail

mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::collections::BTreeMap;
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{SystemTime, UNIX_EPOCH};

use support::demos::{demo_file, demos};

/// Where a run takes seconds: a plain head, one with a rig and blocks of two kinds, and one with
/// measured readings. Optimised, every demo.
const UNOPTIMISED: [&str; 3] = ["sandpiper", "curlew", "snipe"];

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

/// What a run leaves: its files, and the words on its screen, without the folders that the output and
/// the parameter file are in, which differ from run to run.
struct Made {
    files: BTreeMap<PathBuf, Vec<u8>>,
    words: Vec<String>,
}

/// Makes a demo, with all that can be asked for, from a folder of its own.
fn made(demo: &str, round: &Surroundings) -> Made {
    let place = tempfile::tempdir().expect("a temporary folder");
    let params = Path::new(env!("CARGO_MANIFEST_DIR")).join("params");
    let (working, file) = if round.absolute {
        (
            place.path().to_path_buf(),
            params.join(format!("{demo}.toml")),
        )
    } else {
        (params.clone(), PathBuf::from(format!("{demo}.toml")))
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
    let said = String::from_utf8(output.stdout).expect("UTF-8");
    // Colours are asked for by one of the surroundings.
    let said = anstream::adapter::strip_str(&said).to_string();
    let folder = format!("{}/", params.display());
    let said = said
        .replace(&out.display().to_string(), "OUT")
        // Sets are named as the file is.
        .replace(&folder, "");
    Made {
        files: files(&out),
        // Longer names break lines elsewhere.
        words: said.split_whitespace().map(str::to_owned).collect(),
    }
}

/// Today's date as files might bear it, and its neighbours', since it is another day elsewhere.
fn dates() -> Vec<String> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    let today = i64::try_from(since.expect("a clock").as_secs() / 86400).expect("a day");
    let of_day = |day: i64| {
        // Days since 1 March of the year 0, in eras of 400 years.
        let days = day + 719_468;
        let (era, day) = (days / 146_097, days % 146_097);
        let year = (day - day / 1460 + day / 36_524 - day / 146_096) / 365;
        let day = day - (365 * year + year / 4 - year / 100);
        let month = (5 * day + 2) / 153;
        let day = day - (153 * month + 2) / 5 + 1;
        let month = if month < 10 { month + 3 } else { month - 9 };
        let year = era * 400 + year + i64::from(month < 3);
        [
            format!("{year}-{month:02}-{day:02}"),
            format!("{year}/{month:02}/{day:02}"),
            format!("{day:02}.{month:02}.{year}"),
            // As PDF has it.
            format!("D:{year}{month:02}{day:02}"),
        ]
    };
    (today - 1..=today + 1).flat_map(of_day).collect()
}

#[test]
fn surroundings_change_no_byte() {
    let demos = if cfg!(debug_assertions) {
        UNOPTIMISED.map(str::to_owned).to_vec()
    } else {
        demos()
    };
    for demo in demos {
        let plain = made(&demo, &PLAIN);
        let files = &plain.files;
        assert!(files.len() >= 20, "{demo}: {} files", files.len());
        assert!(
            plain.words.contains(&"OUT:".to_owned()),
            "{:?}",
            plain.words
        );
        for (index, round) in OTHERS.iter().enumerate() {
            let other = made(&demo, round);
            assert_eq!(plain.words, other.words, "{demo}, surroundings {index}");
            let (a, b): (Vec<_>, Vec<_>) = (files.keys().collect(), other.files.keys().collect());
            assert_eq!(a, b, "{demo}, surroundings {index}: names of the files");
            for (name, bytes) in files {
                let same = &other.files[name];
                let at = bytes.iter().zip(same).position(|(a, b)| a != b);
                assert!(
                    bytes == same,
                    "{demo}, surroundings {index}: {} differs from byte {at:?}",
                    name.display()
                );
            }
        }
        // Runs of one day would agree about it.
        let typed = fs::read_to_string(demo_file(&demo)).expect("the demo");
        for date in dates().iter().filter(|date| !typed.contains(*date)) {
            for (name, bytes) in files {
                let found = bytes
                    .windows(date.len())
                    .any(|part| part == date.as_bytes());
                assert!(!found, "{demo}: {} bears {date}", name.display());
            }
        }
        for (name, bytes) in files {
            if name.extension().is_none_or(|end| end != "3mf") {
                continue;
            }
            let mut package = zip::ZipArchive::new(Cursor::new(bytes)).expect("a package");
            for at in 0..package.len() {
                let part = package.by_index(at).expect("a part");
                let year = part.last_modified().map(|stamp| stamp.year());
                // The year in which the format's count begins.
                assert!(year.is_none_or(|year| year == 1980), "{demo}: {year:?}");
            }
        }
    }
}
