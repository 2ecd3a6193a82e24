use super::making::Only;
use super::*;
use clap::CommandFactory;

#[test]
fn the_table_of_arguments_holds_together() {
    Arguments::command().debug_assert();
}

#[test]
fn one_name_is_the_file_two_are_kind_and_file() {
    let start = |names: &[&str]| {
        let line = ["barrelhead", "start"].iter().chain(names);
        match Arguments::try_parse_from(line).unwrap().command {
            Command::Start(start) => (start.design, start.file.unwrap()),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(start(&["a.toml"]), (None, "a.toml".into()));
    assert_eq!(
        start(&["ukulele", "a.toml"]),
        (Some("ukulele".into()), "a.toml".into())
    );
    assert_eq!(start(&["--ask", "a.toml"]), (None, "a.toml".into()));
}

/// What is said of a command line that is refused.
fn refused(line: &[&str]) -> String {
    let line = ["barrelhead", "make", "a.toml"].iter().chain(line);
    match Arguments::try_parse_from(line) {
        Ok(taken) => panic!("{taken:?}"),
        Err(error) => error.to_string(),
    }
}

#[test]
fn a_length_mistyped_is_named_and_mended() {
    for (option, typed, message, instead) in [
        (
            "--bar",
            "96,3",
            "a comma where a decimal point",
            "type 96.3",
        ),
        (
            "--bar",
            "96,3 mm",
            "a comma where a decimal point",
            "\"96.3 mm\"",
        ),
        ("--bar", "foo", "is no length", "such as 99.6"),
        ("--bar", "nan", "is no length", "such as 99.6"),
        ("--bar", "9.96", "9.96 mm cannot be", "such as 99.6"),
        (
            "--neck-stub",
            "60,5",
            "a comma where a decimal point",
            "type 60.5",
        ),
        ("--neck-stub", "6 cm", "`cm`", "\"60 mm\""),
        (
            "--neck-stub",
            "foo",
            "is no length",
            "such as 60 or \"2-3/8 in\"",
        ),
        (
            "--neck-stub",
            "0",
            "above zero",
            "such as 60 or \"2-3/8 in\"",
        ),
    ] {
        let said = refused(&[option, typed]);
        assert!(said.contains(message) && said.contains(instead), "{said}");
    }
}

#[test]
fn blanks_after_the_commas_of_a_list_are_taken() {
    let only = |typed: &str| {
        let line = ["barrelhead", "make", "a.toml", "--only", typed];
        match Arguments::try_parse_from(line).unwrap().command {
            Command::Make(make) => make.only,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(
        only("bench, print ,shop"),
        [Only::Bench, Only::Print, Only::Shop]
    );
    let said = refused(&["--only", "bench, prit"]);
    assert!(
        said.contains("[possible values: bench, print, shop, report]"),
        "{said}"
    );
}

/// Help is filled to the screen's width, so a line broken in the source would be broken again; and what is
/// set in columns must fit the narrowest screen.
#[test]
fn help_has_no_line_breaks_within_its_sentences() {
    const NARROWEST: usize = 80;
    let mut program = Arguments::command();
    program.build();
    let all: Vec<_> = program.get_subcommands().collect();
    for command in all.into_iter().chain([&program]) {
        let Some(text) = command.get_after_help() else {
            continue;
        };
        for line in text.to_string().lines() {
            let whole = if line.starts_with(' ') {
                line.chars().count() <= NARROWEST
            } else {
                line.is_empty() || line.ends_with(['.', ':'])
            };
            assert!(whole, "{}: {line}", command.get_name());
        }
    }
}

/// README's table of commands names every option of each command, and no other.
#[test]
fn readme_names_the_options_of_every_command() {
    let readme = include_str!("../../../README.md");
    let (_, after) = readme.split_once("\n## Commands\n").unwrap();
    let (part, _) = after.split_once("\n## ").unwrap();
    let (in_json, _) = part.split_once(" take `--json`").unwrap();
    let in_json = in_json.rsplit("\n\n").next().unwrap();
    let named = |text: &str| -> Vec<String> {
        let words = text.split(['`', ' ', '[', ']', '|']);
        let long = words.filter_map(|word| word.strip_prefix("--"));
        long.map(str::to_owned).collect()
    };
    let mut program = Arguments::command();
    program.build();
    for command in program.get_subcommands() {
        let name = command.get_name();
        let begins = format!("| `barrelhead {name}");
        let rows = part.lines().filter(|line| {
            let rest = line.strip_prefix(begins.as_str());
            rest.is_some_and(|rest| rest.starts_with([' ', '`']))
        });
        let mut readme: Vec<String> = rows.flat_map(named).collect();
        assert!(part.contains(&begins), "{name}");
        if in_json.contains(&format!("`{name}`")) {
            readme.push("json".to_owned());
        }
        let long = command.get_arguments().filter_map(clap::Arg::get_long);
        let mut own: Vec<&str> = long.filter(|long| *long != "help").collect();
        readme.sort_unstable();
        readme.dedup();
        own.sort_unstable();
        assert_eq!(readme, own, "{name}");
    }
}
