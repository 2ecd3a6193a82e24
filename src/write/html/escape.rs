//! Foreign text made safe for a page that is HTML and XML at once.

pub use crate::write::markup::escaped as text;

/// A foreign text that keeps its own direction of writing to itself.
pub fn isolated(foreign: &str) -> String {
    format!("<bdi>{}</bdi>", text(foreign))
}

/// A relative file name as a link's address.
pub fn address(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    for byte in name.replace('\\', "/").bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => {
                out.push(char::from(byte));
            }
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    // A colon before the first slash would read as a scheme; it is escaped like the rest above.
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_stay_relative_file_names() {
        assert_eq!(address("shop/head-face.dxf"), "shop/head-face.dxf");
        assert_eq!(
            address("javascript:a b?#\"ä"),
            "javascript%3Aa%20b%3F%23%22%C3%A4"
        );
    }
}
