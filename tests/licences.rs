//! Every crate that is built in or tested with bears a licence that the program can be given away under.
//! The lists are those of `.ci/deny.toml`, so that both checks allow the same.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;

const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// What `.ci/deny.toml` allows.
fn allowed() -> BTreeSet<String> {
    let rules: toml::Table = toml::from_str(include_str!("../.ci/deny.toml")).unwrap();
    let list = rules["licenses"]["allow"].as_array().unwrap();
    list.iter()
        .map(|name| name.as_str().unwrap().to_owned())
        .collect()
}

/// The packages of the lock file that this machine builds and tests with.
fn packages() -> Vec<Value> {
    let cargo = || Command::new(env!("CARGO"));
    let version = cargo().arg("-vV").output().unwrap();
    let version = String::from_utf8(version.stdout).unwrap();
    let host = version
        .lines()
        .find_map(|line| line.strip_prefix("host: "))
        .unwrap();
    // What is built here has been fetched, so nothing need be asked of the network.
    let output = cargo()
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .args(["--filter-platform", host, "--manifest-path"])
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"))
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let mut said: Value = serde_json::from_slice(&output.stdout).unwrap();
    let Value::Array(packages) = said["packages"].take() else {
        panic!("no packages");
    };
    packages
}

/// Whether one may choose among the licences of an SPDX expression so that all of them are allowed. An
/// exception ("WITH") only adds rights, so it is passed over; crates of old write "/" for OR.
fn permits(expression: &str, allowed: &BTreeSet<String>) -> Result<bool, String> {
    let spaced = expression
        .replace('/', " OR ")
        .replace('(', " ( ")
        .replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let (good, rest) = any(&words, allowed)?;
    if rest.is_empty() {
        Ok(good)
    } else {
        Err(format!("left over: {}", rest.join(" ")))
    }
}

type Judged<'w> = Result<(bool, &'w [&'w str]), String>;

fn any<'w>(words: &'w [&'w str], allowed: &BTreeSet<String>) -> Judged<'w> {
    let (mut good, mut rest) = all(words, allowed)?;
    while let ["OR", after @ ..] = rest {
        let (next, left) = all(after, allowed)?;
        (good, rest) = (good || next, left);
    }
    Ok((good, rest))
}

fn all<'w>(words: &'w [&'w str], allowed: &BTreeSet<String>) -> Judged<'w> {
    let (mut good, mut rest) = one(words, allowed)?;
    while let ["AND", after @ ..] = rest {
        let (next, left) = one(after, allowed)?;
        (good, rest) = (good && next, left);
    }
    Ok((good, rest))
}

fn one<'w>(words: &'w [&'w str], allowed: &BTreeSet<String>) -> Judged<'w> {
    match words {
        ["(", inner @ ..] => match any(inner, allowed)? {
            (good, [")", rest @ ..]) => Ok((good, rest)),
            _ => Err("a bracket is not closed".to_owned()),
        },
        [] | ["OR" | "AND" | "WITH" | ")", ..] => Err("a licence is missing".to_owned()),
        [name, "WITH", _, rest @ ..] | [name, rest @ ..] => Ok((allowed.contains(*name), rest)),
    }
}

#[test]
fn every_dependency_has_a_licence_that_is_allowed_and_comes_from_the_registry() {
    let allowed = allowed();
    let packages = packages();
    let own = |package: &&Value| package["source"].is_null();
    assert_eq!(
        packages.iter().filter(own).count(),
        1,
        "only barrelhead itself"
    );
    let mut faults = Vec::new();
    for package in &packages {
        let name = format!("{} {}", package["name"], package["version"]);
        match package["license"]
            .as_str()
            .map(|text| permits(text, &allowed))
        {
            Some(Ok(true)) => {}
            other => faults.push(format!("{name}: {} {other:?}", package["license"])),
        }
        if !own(&package) && package["source"] != REGISTRY {
            faults.push(format!("{name}: from {}", package["source"]));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn nothing_is_allowed_that_no_dependency_needs() {
    let allowed = allowed();
    let expressions: Vec<String> = packages()
        .iter()
        .filter_map(|package| package["license"].as_str().map(str::to_owned))
        .collect();
    for name in &allowed {
        let mut without = allowed.clone();
        without.remove(name);
        let needed = expressions
            .iter()
            .any(|text| permits(text, &without) != Ok(true));
        assert!(needed, "{name} is allowed but not needed");
    }
}

/// Rows of the table in the notes: a licence, and the crates that bear it.
fn noted() -> BTreeMap<String, BTreeSet<String>> {
    let notes = include_str!("../DEVELOPERS.md");
    let table = notes.split("| Licence | Crates |\n|---|---|\n").nth(1);
    let rows = table
        .unwrap()
        .lines()
        .take_while(|line| line.starts_with('|'));
    let mut found = BTreeMap::new();
    for row in rows {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let licence = cells[1].trim_matches('`').to_owned();
        let names = cells[2].split(", ").map(str::to_owned).collect();
        assert_eq!(found.insert(licence, names), None, "{row}");
    }
    found
}

/// Every crate stands in the row of its licence, and no row names one that is not there. What other
/// systems build with differs, so elsewhere only the licences are looked for.
#[test]
fn the_table_in_the_notes_names_the_crates_and_their_licences() {
    let mut borne: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages() {
        if !package["source"].is_null() {
            let text = package["license"].as_str().unwrap();
            let name = package["name"].as_str().unwrap().to_owned();
            borne.entry(text.to_owned()).or_default().insert(name);
        }
    }
    let noted = noted();
    for (licence, names) in &borne {
        assert!(
            noted.contains_key(licence),
            "DEVELOPERS.md lacks a row for `{licence}`, borne by {names:?}"
        );
    }
    if cfg!(all(target_os = "linux", target_arch = "x86_64")) {
        for (licence, names) in &borne {
            let row: Vec<&str> = names.iter().map(String::as_str).collect();
            let row = format!("| `{licence}` | {} |", row.join(", "));
            assert_eq!(noted[licence], *names, "DEVELOPERS.md should say: {row}");
        }
        assert!(
            noted.keys().eq(borne.keys()),
            "a row for a licence nobody bears"
        );
    }
}

#[test]
fn expressions_are_judged_as_spdx_has_them() {
    let allowed = BTreeSet::from(["MIT".to_owned(), "BSD-3-Clause".to_owned()]);
    for (text, good) in [
        ("MIT", true),
        ("GPL-3.0-only", false),
        ("MIT OR GPL-3.0-only", true),
        ("GPL-3.0-only/MIT", true),
        ("MIT AND GPL-3.0-only", false),
        // AND binds closer than OR.
        ("MIT OR GPL-3.0-only AND LGPL-3.0-only", true),
        ("(MIT OR GPL-3.0-only) AND LGPL-3.0-only", false),
        ("(GPL-3.0-only OR MIT) AND BSD-3-Clause", true),
        ("GPL-3.0-only WITH Classpath-exception-2.0 OR MIT", true),
        ("mit", false),
    ] {
        assert_eq!(permits(text, &allowed), Ok(good), "{text}");
    }
    for text in ["", "MIT OR", "(MIT", "MIT)", "MIT MIT", "WITH MIT"] {
        assert!(permits(text, &allowed).is_err(), "{text}");
    }
}
