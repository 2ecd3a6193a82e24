//! `barrelhead explain`.

use serde_json::{Value, json};

use crate::input::nearest::nearest;
use crate::pipeline::{self, Explanation};

use super::arguments::ExplainArguments;
use super::style::{STRONG, clean, fill, paint};
use super::table::{Lean, Table};
use super::{Said, json};

/// Explains one check, or lists all of them.
pub fn run(arguments: &ExplainArguments) -> Said {
    let Some(code) = &arguments.code else {
        let all = pipeline::explanations();
        return if arguments.json {
            Said::done(as_json(&all))
        } else {
            Said::done(list(&all))
        };
    };
    match pipeline::explain(code) {
        Some(found) if arguments.json => Said::done(as_json(&[found])),
        Some(found) => Said::done(page(&found)),
        None => Said::wrong(&unknown(code)),
    }
}

fn unknown(code: &str) -> String {
    let all = pipeline::explanations();
    let meant = nearest(code, all.iter().map(|known| known.code.as_str()));
    let hint = meant.map_or(String::new(), |meant| format!(" Did you mean `{meant}`?"));
    format!(
        "there is no check `{}`.{hint} `barrelhead explain` lists them all.",
        clean(code)
    )
}

fn list(all: &[Explanation]) -> String {
    let mut table = Table::new(&[("", Lean::Left), ("", Lean::Left)]);
    for known in all {
        table.row(vec![paint(STRONG, &known.code), known.title.clone()]);
    }
    format!(
        "The checks:\n{}\nOne of them in full: barrelhead explain CODE\n",
        table.draw()
    )
}

fn page(found: &Explanation) -> String {
    let paragraphs: Vec<String> = found
        .text
        .split("\n\n")
        .map(|paragraph| fill(paragraph, 0))
        .collect();
    format!(
        "{}  {}\n\n{}",
        paint(STRONG, &found.code),
        found.title,
        paragraphs.join("\n")
    )
}

fn as_json(all: &[Explanation]) -> String {
    let checks: Vec<Value> = all
        .iter()
        .map(|known| json!({ "code": known.code, "title": known.title, "text": known.text }))
        .collect();
    json::text(&json!({ "checks": checks }))
}
