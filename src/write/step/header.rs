//! The header section.

use super::schema::Schema;
use super::strings::quoted;

/// Time stamp of a file whose maker gave no date. The encoding demands one and the clock must
/// not enter, so it is the start of the Unix epoch: plainly no date of any work.
const NO_DATE: &str = "1970-01-01T00:00:00";

/// Longest string that the header's entities take, in characters.
const LONGEST: usize = 256;

/// What the header says of the file.
#[derive(Debug, Clone, Copy)]
pub struct Header<'a> {
    /// The file's own name, `"head.step"`.
    pub file_name: &'a str,
    /// What the file holds, for people.
    pub description: &'a str,
    /// The job's date. One written as year-month-day, `"2026-03-14"`, becomes the file's time
    /// stamp; without one the stamp is the start of 1970. Other text is no date to a program and
    /// changes nothing.
    pub date: Option<&'a str>,
}

impl Header<'_> {
    /// The section's lines.
    pub(super) fn section(&self, schema: Schema) -> String {
        let stamp = match self.date {
            Some(date) if is_date(date) => format!("{date}T00:00:00"),
            _ => NO_DATE.to_owned(),
        };
        let description: Vec<char> = self.description.chars().collect();
        let mut pieces: Vec<String> = description
            .chunks(LONGEST)
            .map(|piece| quoted(&piece.iter().collect::<String>()))
            .collect();
        if pieces.is_empty() {
            pieces.push(quoted(""));
        }
        let name: String = self.file_name.chars().take(LONGEST).collect();
        format!(
            "HEADER;\n\
             FILE_DESCRIPTION(({}),'2;1');\n\
             FILE_NAME({},{},(''),(''),{},{},'');\n\
             FILE_SCHEMA(({}));\n\
             ENDSEC;\n",
            pieces.join(","),
            quoted(&name),
            quoted(&stamp),
            quoted(concat!("barrelhead ", env!("CARGO_PKG_VERSION"))),
            quoted("barrelhead"),
            quoted(schema.file_schema()),
        )
    }
}

/// True for a calendar date written `YYYY-MM-DD`.
fn is_date(text: &str) -> bool {
    let bytes = text.as_bytes();
    let shaped = bytes.len() == 10
        && bytes.iter().enumerate().all(|(i, b)| match i {
            4 | 7 => *b == b'-',
            _ => b.is_ascii_digit(),
        });
    if !shaped {
        return false;
    }
    let number = |from: usize, to: usize| {
        bytes[from..to]
            .iter()
            .fold(0_u32, |n, b| n * 10 + u32::from(b - b'0'))
    };
    let (year, month, day) = (number(0, 4), number(5, 7), number(8, 10));
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn section(description: &str, date: Option<&str>) -> String {
        Header {
            file_name: "head.step",
            description,
            date,
        }
        .section(Schema::Ap242)
    }

    #[test]
    fn only_a_calendar_date_becomes_the_time_stamp() {
        for date in ["2026-03-14", "2024-02-29"] {
            assert!(section("", Some(date)).contains(&format!("'{date}T00:00:00'")));
        }
        for date in [
            "14 March",
            "2026-13-01",
            "2026-02-29",
            "2026-00-10",
            "2026-1-01",
            "'); x",
        ] {
            assert!(section("", Some(date)).contains(NO_DATE), "{date}");
        }
        assert!(section("", None).contains(NO_DATE));
    }

    #[test]
    fn a_long_description_is_cut_into_strings_the_header_can_hold() {
        let text = section(&"\u{e9}a".repeat(200), None);
        let line = text.lines().nth(1).unwrap_or_default();
        assert_eq!(line.matches("','").count(), 1, "two pieces of one list");
        assert_eq!(line.matches("\\X2\\00E9\\X0\\a").count(), 200);
    }

    #[test]
    fn schema_and_level_are_exact() {
        let text = section("A head", None);
        assert!(text.contains("FILE_DESCRIPTION(('A head'),'2;1');"));
        assert!(text.contains(
            "FILE_SCHEMA(('AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 4 1 4 }'));"
        ));
        let older = Header {
            file_name: "head.step",
            description: "",
            date: None,
        }
        .section(Schema::Ap214);
        assert!(older.contains("FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));"));
        assert!(older.contains("'2;1'"));
    }
}
