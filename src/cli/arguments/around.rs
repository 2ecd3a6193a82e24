//! What the commands for shell and editor take: `schema`, `manual`, `completions`.

use std::path::PathBuf;

use clap::Args;

/// `schema`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead schema > barrelhead.schema.json  for parameter files
  barrelhead schema --part > set.schema.json  for a set or a block alone

An editor that takes JSON Schema for TOML then shows what each key means, offers those there are, and \
marks what cannot be read. It sees the form of a file only: what the numbers mean, `check` says.")]
pub struct SchemaArguments {
    /// For a file that holds only some of the tables, such as one that `from` names
    #[arg(long)]
    pub part: bool,
}

/// `manual`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead manual > barrelhead.1   the page of the program
  barrelhead manual make | man -l -  the page of a command, read at once
  barrelhead manual --out man1       every page into a folder")]
pub struct ManualArguments {
    /// The command whose page is wanted; without it the program's own
    #[arg(value_name = "COMMAND", conflicts_with = "out")]
    pub command: Option<String>,
    /// Write all pages into this folder, which must be there; pages of an earlier run are replaced
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// `completions`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead completions bash \\
      > ~/.local/share/bash-completion/completions/barrelhead
  barrelhead completions zsh > ~/.zfunc/_barrelhead
  barrelhead completions fish > ~/.config/fish/completions/barrelhead.fish")]
pub struct CompletionsArguments {
    /// The shell
    #[arg(value_name = "SHELL", value_enum)]
    pub shell: clap_complete::Shell,
}
