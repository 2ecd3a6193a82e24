//! Tokens and instances of an exchange structure of implementation level 2;1.

use std::collections::BTreeMap;

/// A value of an attribute, as the file states it.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    Text(String),
    Real(f64),
    Integer(i64),
    Ref(u64),
    Enum(String),
    List(Vec<Value>),
    Typed(String, Vec<Value>),
    Unset,
    Derived,
}

/// Entity type and attributes.
pub type Record = (String, Vec<Value>);

/// A whole file.
#[derive(Debug)]
pub struct File {
    pub header: Vec<Record>,
    /// By instance name; one record each, several for a complex instance.
    pub instances: BTreeMap<u64, Vec<Record>>,
}

/// Reads a file.
pub fn parse(text: &str) -> Result<File, String> {
    let mut reader = Reader {
        bytes: text.as_bytes(),
        at: 0,
    };
    reader.word("ISO-10303-21;")?;
    reader.word("HEADER;")?;
    let mut header = Vec::new();
    while !reader.try_word("ENDSEC;") {
        header.push(reader.record()?);
        reader.word(";")?;
    }
    reader.word("DATA;")?;
    let mut instances = BTreeMap::new();
    while !reader.try_word("ENDSEC;") {
        reader.word("#")?;
        let name = reader.integer()?;
        reader.word("=")?;
        let records = if reader.try_word("(") {
            let mut parts = Vec::new();
            while !reader.try_word(")") {
                parts.push(reader.record()?);
            }
            parts
        } else {
            vec![reader.record()?]
        };
        reader.word(";")?;
        if instances.insert(name, records).is_some() {
            return Err(format!("#{name} is there twice"));
        }
    }
    reader.word("END-ISO-10303-21;")?;
    reader.space();
    if reader.at != reader.bytes.len() {
        return Err("text after the end".to_owned());
    }
    Ok(File { header, instances })
}

struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Reader<'_> {
    fn space(&mut self) {
        while let Some(b) = self.bytes.get(self.at) {
            if b.is_ascii_whitespace() {
                self.at += 1;
            } else if self.bytes[self.at..].starts_with(b"/*") {
                self.at += 2;
                while self.at < self.bytes.len() && !self.bytes[self.at..].starts_with(b"*/") {
                    self.at += 1;
                }
                self.at += 2;
            } else {
                break;
            }
        }
    }

    fn peek(&mut self) -> u8 {
        self.space();
        self.bytes.get(self.at).copied().unwrap_or(0)
    }

    fn try_word(&mut self, word: &str) -> bool {
        self.space();
        let found = self
            .bytes
            .get(self.at..)
            .is_some_and(|rest| rest.starts_with(word.as_bytes()));
        if found {
            self.at += word.len();
        }
        found
    }

    fn word(&mut self, word: &str) -> Result<(), String> {
        if self.try_word(word) {
            return Ok(());
        }
        let end = (self.at + 40).min(self.bytes.len());
        let rest = String::from_utf8_lossy(self.bytes.get(self.at..end).unwrap_or_default());
        Err(format!("expected {word:?} before {rest:?}"))
    }

    fn take(&mut self, allowed: impl Fn(u8) -> bool) -> String {
        let from = self.at;
        while self.bytes.get(self.at).is_some_and(|b| allowed(*b)) {
            self.at += 1;
        }
        String::from_utf8_lossy(&self.bytes[from..self.at]).into_owned()
    }

    fn integer(&mut self) -> Result<u64, String> {
        let digits = self.take(|b| b.is_ascii_digit());
        digits.parse().map_err(|_| format!("bad name {digits:?}"))
    }

    fn keyword(&mut self) -> Result<String, String> {
        self.space();
        let word = self.take(|b| b.is_ascii_uppercase() || b.is_ascii_digit() || b == b'_');
        if word.is_empty() {
            return Err(format!("expected a keyword at byte {}", self.at));
        }
        Ok(word)
    }

    fn record(&mut self) -> Result<Record, String> {
        let keyword = self.keyword()?;
        Ok((keyword, self.list()?))
    }

    fn list(&mut self) -> Result<Vec<Value>, String> {
        self.word("(")?;
        let mut values = Vec::new();
        if self.try_word(")") {
            return Ok(values);
        }
        loop {
            values.push(self.value()?);
            if self.try_word(")") {
                return Ok(values);
            }
            self.word(",")?;
        }
    }

    fn value(&mut self) -> Result<Value, String> {
        match self.peek() {
            b'\'' => self.text().map(Value::Text),
            b'(' => self.list().map(Value::List),
            b'$' => self.word("$").map(|()| Value::Unset),
            b'*' => self.word("*").map(|()| Value::Derived),
            b'#' => {
                self.at += 1;
                self.integer().map(Value::Ref)
            }
            b'.' => {
                self.at += 1;
                let name = self.keyword()?;
                self.word(".")?;
                Ok(Value::Enum(name))
            }
            b'A'..=b'Z' => {
                let keyword = self.keyword()?;
                Ok(Value::Typed(keyword, self.list()?))
            }
            _ => self.number(),
        }
    }

    /// A real is sign, digits, point, digits, and an exponent after a capital E.
    fn number(&mut self) -> Result<Value, String> {
        let text = self.take(|b| b.is_ascii_digit() || b"+-.E".contains(&b));
        let bad = || format!("bad number {text:?}");
        let (mantissa, exponent) = match text.split_once('E') {
            Some((mantissa, exponent)) => (mantissa, Some(exponent)),
            None => (text.as_str(), None),
        };
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        let unsigned = mantissa.strip_prefix(['+', '-']).unwrap_or(mantissa);
        let Some((whole, fraction)) = unsigned.split_once('.') else {
            let whole = exponent.is_none() && digits(unsigned);
            let number = text.parse().ok().filter(|_| whole);
            return number.map(Value::Integer).ok_or_else(bad);
        };
        let exponent = exponent.map(|e| e.strip_prefix(['+', '-']).unwrap_or(e));
        let exponent_ok = exponent.is_none_or(|e| !e.is_empty() && digits(e));
        if whole.is_empty() || !digits(whole) || !digits(fraction) || !exponent_ok {
            return Err(bad());
        }
        if text == "-0." || text == "-0.0" {
            return Err("minus zero".to_owned());
        }
        text.parse().map(Value::Real).map_err(|_| bad())
    }

    fn text(&mut self) -> Result<String, String> {
        let from = self.at + 1;
        let mut end = from;
        loop {
            match (self.bytes.get(end), self.bytes.get(end + 1)) {
                (Some(b'\''), Some(b'\'')) => end += 2,
                (Some(b'\''), _) => break,
                (Some(b' '..=b'~'), _) => end += 1,
                (other, _) => return Err(format!("{other:?} in a string")),
            }
        }
        self.at = end + 1;
        let raw = String::from_utf8_lossy(&self.bytes[from..end]).into_owned();
        unescape(&raw.replace("''", "'"))
    }
}

fn unescape(raw: &str) -> Result<String, String> {
    let mut out = String::new();
    let mut rest = raw;
    while let Some(at) = rest.find('\\') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        if let Some(after) = rest.strip_prefix("\\\\") {
            out.push('\\');
            rest = after;
            continue;
        }
        let size = match rest.get(..4) {
            Some("\\X2\\") => 4,
            Some("\\X4\\") => 8,
            _ => return Err(format!("bad escape in {raw:?}")),
        };
        let close = rest[4..].find("\\X0\\").ok_or("escape without end")? + 4;
        let hex = &rest[4..close];
        if hex.is_empty() || !hex.len().is_multiple_of(size) {
            return Err(format!("bad length of escape in {raw:?}"));
        }
        for i in (0..hex.len()).step_by(size) {
            let code = u32::from_str_radix(&hex[i..i + size], 16).map_err(|e| e.to_string())?;
            out.push(char::from_u32(code).ok_or("no such character")?);
        }
        rest = &rest[close + 4..];
    }
    Ok(out + rest)
}
