//! Manual pages, completions and the version: made from the definitions of the help, so whatever the help
//! names they name too.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod process;
}

use std::collections::BTreeSet;
use std::process::{Command, Stdio};

use support::process::run;

fn said(arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
    let output = run(command.args(arguments), &arguments.join(" "));
    String::from_utf8(output.stdout).unwrap()
}

/// The first words of the lines of one part of a help text, as the help itself lists them.
fn listed(help: &str, heading: &str) -> Vec<String> {
    let part = help.split(heading).nth(1).unwrap_or_default();
    part.lines()
        .skip(1)
        .take_while(|line| line.starts_with(' ') || line.is_empty())
        .filter_map(|line| line.split_whitespace().next())
        .map(str::to_owned)
        .collect()
}

fn commands() -> Vec<String> {
    let list = listed(&said(&["--help"]), "Commands:");
    assert!(list.len() >= 13, "{list:?}");
    list
}

/// Long options of a command, from its help.
fn options(command: &str) -> Vec<String> {
    let help = said(&[command, "--help"]);
    let mut list: Vec<String> = help
        .lines()
        .filter(|line| line.trim_start().starts_with('-'))
        .flat_map(|line| line.split([' ', ',', '=', '[', ':', '.', ';']))
        .filter(|word| word.starts_with("--"))
        .map(str::to_owned)
        .collect();
    list.sort();
    list.dedup();
    assert!(list.contains(&"--help".to_owned()), "{command}: {list:?}");
    list
}

#[test]
fn every_command_has_a_page_with_its_options() {
    let program = said(&["manual"]);
    for command in commands() {
        assert!(program.contains(&command), "{command}");
        let page = said(&["manual", &command]);
        assert!(page.contains(&format!(".TH barrelhead-{command} 1")));
        // Hyphens stand escaped in the page.
        let page = page.replace('\\', "");
        for option in options(&command) {
            assert!(page.contains(&option), "{command} {option}\n{page}");
        }
    }
}

#[test]
fn all_pages_go_into_a_folder_and_are_renewed_there_all_or_none() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let list = said(&["manual", "--out", out]);
    assert_eq!(list.lines().count(), commands().len() + 1, "{list}");
    let page = folder.path().join("barrelhead-make.1");
    let text = std::fs::read_to_string(&page).unwrap();
    assert_eq!(text, said(&["manual", "make"]));
    // A page of an older version, and one that was not there then.
    std::fs::write(&page, text.replace("make", "made")).unwrap();
    std::fs::remove_file(folder.path().join("barrelhead-class.1")).unwrap();
    std::fs::write(folder.path().join("other.1"), "mine").unwrap();
    assert_eq!(said(&["manual", "--out", out]), list);
    assert_eq!(std::fs::read_to_string(&page).unwrap(), text);
    let there = || std::fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(there(), list.lines().count() + 1);
    // All or none: the last place is taken by what is no page of ours, and the others stay as they are.
    let last = list.lines().last().unwrap();
    std::fs::write(last, "mine").unwrap();
    std::fs::write(&page, text.replace("make", "made")).unwrap();
    std::fs::remove_file(folder.path().join("barrelhead-class.1")).unwrap();
    let (before, older) = (there(), std::fs::read(&page).unwrap());
    let again = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(["manual", "--out", out])
        .output()
        .unwrap();
    assert_eq!(again.status.code(), Some(2));
    let words = String::from_utf8_lossy(&again.stderr).into_owned();
    assert!(words.contains("is no page of barrelhead's"), "{words}");
    assert_eq!(std::fs::read(&page).unwrap(), older);
    assert_eq!(std::fs::read(last).unwrap(), b"mine");
    assert_eq!(there(), before);
}

/// What a shell's script offers after a command: the long options of that command's own block.
fn offered(shell: &str, script: &str, command: &str) -> BTreeSet<String> {
    let (begins, ends) = match shell {
        "bash" => (format!("barrelhead__subcmd__{command})"), ";;"),
        "zsh" => (format!("({command})"), ";;"),
        "fish" => ("#".to_owned(), "no end"),
        "elvish" => (format!("&'barrelhead;{command}'= {{"), "}"),
        "powershell" => (format!("'barrelhead;{command}' {{"), "break"),
        other => panic!("{other}"),
    };
    let block: Vec<&str> = if shell == "fish" {
        let own = format!("\"__fish_barrelhead_using_subcommand {command}\" ");
        script.lines().filter(|line| line.contains(&own)).collect()
    } else {
        let lines = script.lines().map(str::trim);
        let after = lines.skip_while(|line| *line != begins);
        after.take_while(|line| *line != ends).collect()
    };
    let named = |line: &&str| -> Option<String> {
        match shell {
            "fish" => {
                let rest = line.split_once(" -l ")?.1;
                Some(format!("--{}", rest.split(' ').next()?))
            }
            // Before the bracket of its description, behind those it goes without.
            "zsh" => {
                let word = line.strip_prefix('\'')?;
                // Behind those it goes without, and the star of one that may come again.
                let bare = word.strip_prefix('(').and_then(|word| word.split_once(')'));
                let word = bare.map_or(word, |(_, word)| word).trim_start_matches('*');
                let name = word.split(['[', '=']).next()?;
                name.starts_with("--").then(|| name.to_owned())
            }
            "elvish" => Some(line.strip_prefix("cand ")?.split(' ').next()?.to_owned()),
            _ => Some(line.split('\'').nth(1)?.to_owned()),
        }
    };
    let names: Vec<String> = if shell == "bash" {
        let line = block.iter().find_map(|line| line.strip_prefix("opts=\""));
        let words = line.unwrap_or_default().trim_end_matches('"');
        words.split(' ').map(str::to_owned).collect()
    } else {
        block.iter().filter_map(named).collect()
    };
    let long = names.into_iter().filter(|name| name.starts_with("--"));
    long.collect()
}

/// Every shell's script offers, after every command, the options that its help lists and no other.
#[test]
fn completions_offer_the_options_of_each_command() {
    let commands = commands();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = said(&["completions", shell]);
        for command in &commands {
            let listed: BTreeSet<String> = options(command).into_iter().collect();
            assert_eq!(
                offered(shell, &script, command),
                listed,
                "{shell} {command}"
            );
        }
    }
}

/// Shells read their own scripts without a complaint; zsh and fish only where they are installed.
#[test]
fn shells_read_their_completions() {
    for shell in ["bash", "zsh", "fish"] {
        let mut child = match Command::new(shell).arg("-n").stdin(Stdio::piped()).spawn() {
            Ok(child) => child,
            Err(error) if shell == "bash" => panic!("bash: {error}"),
            Err(_) => {
                eprintln!("{shell} is not installed: its completions are not read");
                continue;
            }
        };
        let script = said(&["completions", shell]);
        let mut input = child.stdin.take().unwrap();
        std::io::Write::write_all(&mut input, script.as_bytes()).unwrap();
        drop(input);
        assert!(child.wait().unwrap().success(), "{shell}");
    }
}

/// What bash itself completes `barrelhead COMMAND --` to.
#[test]
fn bash_completes_a_command_to_its_options() {
    let folder = tempfile::tempdir().unwrap();
    let script = folder.path().join("completions");
    std::fs::write(&script, said(&["completions", "bash"])).unwrap();
    let line = "source \"$0\"; COMP_WORDS=(barrelhead \"$1\" --); COMP_CWORD=2; \
        _barrelhead barrelhead -- \"$1\"; printf '%s\\n' \"${COMPREPLY[@]}\"";
    for command in commands() {
        let mut bash = Command::new("bash");
        bash.args(["--norc", "-c", line]).arg(&script).arg(&command);
        let answer = String::from_utf8(run(&mut bash, "bash").stdout).unwrap();
        let mut words: Vec<&str> = answer.lines().collect();
        words.sort_unstable();
        assert_eq!(words, options(&command), "{command}");
    }
}

#[test]
fn an_unknown_command_has_no_page() {
    let output = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(["manual", "maek"])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("there is no command maek; did you mean `make`?"),
        "{said}"
    );
    let output = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(["manual", "xyz"])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    let list = commands().join(", ");
    assert!(
        said.contains(&format!(
            "there is no command xyz; the commands are {list}\n"
        )),
        "{said}"
    );
}

/// A release build of a working tree names its commit, ten hexadecimal digits of it; a build for
/// development, or of a copy without git, names none.
#[test]
fn the_version_is_that_of_the_package_and_names_its_build() {
    let short = said(&["-V"]);
    assert_eq!(
        short.trim(),
        format!("barrelhead {}", env!("CARGO_PKG_VERSION"))
    );
    let long = said(&["--version"]);
    let build = long.trim().strip_prefix(short.trim()).unwrap();
    let folder = std::fs::canonicalize(env!("CARGO_MANIFEST_DIR")).unwrap();
    let mut git = Command::new("git");
    git.args(["rev-parse", "--show-toplevel"])
        .current_dir(&folder);
    let top = git.output().ok().filter(|output| output.status.success());
    let top = top.and_then(|output| {
        let top = String::from_utf8(output.stdout).unwrap();
        std::fs::canonicalize(top.trim()).ok()
    });
    if cfg!(debug_assertions) || top != Some(folder) {
        assert_eq!(build, "");
        return;
    }
    let commit = build
        .strip_prefix(" (built from ")
        .and_then(|rest| rest.strip_suffix(')'))
        .map(|commit| commit.trim_end_matches(", changed since"))
        .unwrap_or_else(|| panic!("{long}"));
    // Git takes more digits where ten are not enough to tell commits apart.
    assert!(commit.len() >= 10, "{long}");
    assert!(commit.chars().all(|c| c.is_ascii_hexdigit()), "{long}");
}
