//! Tables that a screen reader can walk: caption, column heads and row heads with their scope.

use crate::units::{self, Lengths, number};

use super::escape::text;

/// A table under construction. Cells are markup, escaped by whoever makes them.
pub struct Table {
    caption: String,
    head: Vec<String>,
    rows: Vec<(String, Vec<String>)>,
    class: &'static str,
}

impl Table {
    /// A table with its caption and the heads of all columns, that of the row heads first.
    pub fn new(caption: &str, head: &[&str]) -> Table {
        Table {
            caption: text(caption),
            head: head.iter().map(|word| text(word)).collect(),
            rows: Vec::new(),
            class: "figures",
        }
    }

    /// Cells hold words, not figures.
    pub fn of_words(mut self) -> Table {
        self.class = "words";
        self
    }

    /// A row: its head and its cells, both markup.
    pub fn row(&mut self, head: String, cells: Vec<String>) {
        self.rows.push((head, cells));
    }

    /// The markup. Wider than the screen, it scrolls by itself, with the keyboard too.
    pub fn draw(&self) -> String {
        let mut out = format!(
            "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n\
             <table class=\"{}\">\n<caption><span>{}</span></caption>\n<thead>\n<tr>",
            self.caption, self.class, self.caption
        );
        for word in &self.head {
            out.push_str(&format!("<th scope=\"col\">{word}</th>"));
        }
        out.push_str("</tr>\n</thead>\n<tbody>\n");
        for (head, cells) in &self.rows {
            out.push_str(&format!("<tr><th scope=\"row\">{head}</th>"));
            for cell in cells {
                out.push_str(&format!("<td>{cell}</td>"));
            }
            out.push_str("</tr>\n");
        }
        out.push_str("</tbody>\n</table>\n</div>\n");
        out
    }
}

/// A length in a cell: millimetres, and inches under them where wanted.
pub fn length(mm: f64, lengths: Lengths) -> String {
    if lengths.inches {
        format!(
            "{} <span class=\"inch\">{}<span class=\"unit\"> in</span></span>",
            number(mm),
            units::show_inches(mm).trim_end_matches(" in")
        )
    } else {
        number(mm)
    }
}

/// A cell without a figure, said aloud as such.
pub fn none(why: &str) -> String {
    format!(
        "<span aria-hidden=\"true\">–</span><span class=\"aloud\">{}</span>",
        text(why)
    )
}

/// "mm", and where the inches stand.
pub fn unit_note(lengths: Lengths) -> &'static str {
    if lengths.inches {
        "mm, inches beneath"
    } else {
        "mm"
    }
}
