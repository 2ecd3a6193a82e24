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
fn all_pages_go_into_a_folder_and_none_is_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let list = said(&["manual", "--out", out]);
    assert_eq!(list.lines().count(), commands().len() + 1, "{list}");
    let page = std::fs::read_to_string(folder.path().join("barrelhead-make.1")).unwrap();
    assert_eq!(page, said(&["manual", "make"]));
    let again = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(["manual", "--out", out])
        .output()
        .unwrap();
    assert_eq!(again.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&again.stderr).contains("is there already"));
    // All or none: where the last page cannot be written, those before it go again.
    let last = list.lines().last().unwrap().to_owned();
    for page in list.lines().filter(|page| *page != last) {
        std::fs::remove_file(page).unwrap();
    }
    let again = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(["manual", "--out", out])
        .output()
        .unwrap();
    assert_eq!(again.status.code(), Some(2));
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        1,
        "{last}"
    );
}

/// Every shell's script names every command and option; bash reads its own without a complaint.
#[test]
fn completions_name_every_command_and_option() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = said(&["completions", shell]);
        for command in commands() {
            assert!(script.contains(&command), "{shell} {command}");
            for option in options(&command) {
                // fish names long options without their hyphens.
                let name = option.trim_start_matches('-');
                assert!(script.contains(name), "{shell} {command} {option}");
            }
        }
    }
    let mut bash = Command::new("bash")
        .arg("-n")
        .stdin(Stdio::piped())
        .spawn()
        .unwrap();
    let script = said(&["completions", "bash"]);
    std::io::Write::write_all(&mut bash.stdin.take().unwrap(), script.as_bytes()).unwrap();
    assert!(bash.wait().unwrap().success());
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
        said.contains("there is no command maek: did you mean make?"),
        "{said}"
    );
}

#[test]
fn the_version_is_that_of_the_package() {
    let short = said(&["-V"]);
    assert_eq!(
        short.trim(),
        format!("barrelhead {}", env!("CARGO_PKG_VERSION"))
    );
    assert!(said(&["--version"]).starts_with(short.trim()));
}
