//! `barrelhead explain`.

use serde_json::{Value, json};

use crate::check::{Explanation, codes, explain};
use crate::diagnostic::meant::{did_you_mean, nearest};

use super::arguments::ExplainArguments;
use super::style::{STRONG, clean, fill, paint};
use super::table::{Lean, Table};
use super::{Said, json};

/// Explains one check, or lists all of them.
pub fn run(arguments: &ExplainArguments) -> Said {
    let Some(code) = &arguments.code else {
        let all: Vec<Explanation> = codes().filter_map(explain).collect();
        return if arguments.json {
            Said::done(as_json(&all))
        } else {
            Said::done(list(&all))
        };
    };
    match explain(code) {
        Some(found) if arguments.json => Said::done(as_json(&[found])),
        Some(found) => Said::done(page(&found)),
        None => Said::wrong(&unknown(code)),
    }
}

fn unknown(code: &str) -> String {
    let hint = nearest(code, codes()).map_or_else(
        || ".".to_owned(),
        |near| format!("; {}", did_you_mean(near)),
    );
    format!(
        "there is no check `{}`{hint} `barrelhead explain` lists them all.",
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
    let mut out = format!("{}  {}\n", paint(STRONG, found.code), found.title);
    for (heading, text) in [
        ("What is measured", found.measured),
        ("Why it matters", found.why),
        ("What to change", found.change),
        ("Limits", &found.limits),
    ] {
        if !text.is_empty() {
            out.push_str(&format!("\n{}\n{}", paint(STRONG, heading), fill(text, 2)));
        }
    }
    if !out.ends_with('\n') {
        out.push('\n');
    }
    out
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_has_all_four_parts_under_its_name() {
        let found = Explanation {
            code: "web",
            title: "Wood between neighbours",
            measured: "Pitch less bore.",
            why: "Thin webs break out.",
            change: "A smaller bore.",
            limits: "Stop below 1 mm.".into(),
        };
        let text = anstream::adapter::strip_str(&page(&found)).to_string();
        assert!(text.starts_with("web  Wood between neighbours\n\nWhat is measured\n  Pitch"));
        for part in ["  Thin webs", "  A smaller bore.", "  Stop below 1 mm."] {
            assert!(text.contains(part), "{text}");
        }
        let value: Value = serde_json::from_str(&as_json(&[found])).unwrap();
        assert_eq!(value["checks"][0]["why"], "Thin webs break out.");
    }
}
