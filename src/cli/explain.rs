//! `barrelhead explain`.

use serde_json::{Value, json};

use crate::check::{self, Explanation};
use crate::input::nearest::nearest;

use super::arguments::ExplainArguments;
use super::style::{STRONG, clean, fill, paint};
use super::table::{Lean, Table};
use super::{Said, json};

/// Explains one check, or lists all of them.
pub fn run(arguments: &ExplainArguments) -> Said {
    let Some(code) = &arguments.code else {
        let all = every();
        return if arguments.json {
            Said::done(as_json(&all))
        } else {
            Said::done(list(&all))
        };
    };
    match check::explain(code) {
        Some(found) if arguments.json => Said::done(as_json(&[found])),
        Some(found) => Said::done(page(&found)),
        None => Said::wrong(&unknown(code)),
    }
}

fn every() -> Vec<Explanation> {
    check::codes().filter_map(check::explain).collect()
}

fn unknown(code: &str) -> String {
    let all = every();
    let meant = nearest(code, all.iter().map(|known| known.code));
    let hint = meant.map_or(String::new(), |meant| format!(" Did you mean `{meant}`?"));
    format!(
        "there is no check `{}`.{hint} `barrelhead explain` lists them all.",
        clean(code)
    )
}

fn list(all: &[Explanation]) -> String {
    let mut table = Table::new(&[("", Lean::Left), ("", Lean::Left)]);
    for known in all {
        table.row(vec![paint(STRONG, known.code), known.title.to_owned()]);
    }
    format!(
        "The checks:\n{}\nOne of them in full: barrelhead explain CODE\n",
        table.draw()
    )
}

fn page(found: &Explanation) -> String {
    let mut text = format!("{}  {}\n", paint(STRONG, found.code), found.title);
    for (heading, body) in [
        ("Measured", found.measured),
        ("Why", found.why),
        ("Change", found.change),
        ("Limits", found.limits.as_str()),
    ] {
        text.push_str(&format!("\n{}\n{}", paint(STRONG, heading), fill(body, 2)));
    }
    text
}

fn as_json(all: &[Explanation]) -> String {
    let checks: Vec<Value> = all
        .iter()
        .map(|known| {
            json!({
                "code": known.code,
                "title": known.title,
                "measured": known.measured,
                "why": known.why,
                "change": known.change,
                "limits": known.limits,
            })
        })
        .collect();
    json::text(&json!({ "checks": checks }))
}
