//! The application protocols a file can be written in.

/// Application protocol of a file. Both hold the same shapes, names, colours and places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Schema {
    /// AP242 edition 3 (2022): managed model based 3D engineering.
    #[default]
    Ap242,
    /// AP214 (2001): core data for automotive mechanical design processes; for older readers.
    Ap214,
}

impl Schema {
    /// Every schema with the word that asks for it on the command line.
    pub const WORDS: [(&'static str, Schema); 2] =
        [("ap242", Schema::Ap242), ("ap214", Schema::Ap214)];

    /// The schema of a word, `"ap214"`; `None` for any other.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Schema> {
        let found = Schema::WORDS.iter().find(|(known, _)| *known == word);
        found.map(|(_, schema)| *schema)
    }

    /// Text of FILE_SCHEMA, object identifier included.
    pub(super) fn file_schema(self) -> &'static str {
        match self {
            Schema::Ap242 => {
                "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 4 1 4 }"
            }
            Schema::Ap214 => "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }",
        }
    }

    /// What APPLICATION_CONTEXT says.
    pub(super) fn application(self) -> &'static str {
        match self {
            Schema::Ap242 => "managed model based 3d engineering",
            Schema::Ap214 => "core data for automotive mechanical design processes",
        }
    }

    /// Name and year of the APPLICATION_PROTOCOL_DEFINITION.
    pub(super) fn protocol(self) -> (&'static str, u32) {
        match self {
            // Year of edition 3, which FILE_SCHEMA names by its arc 4.
            Schema::Ap242 => ("ap242_managed_model_based_3d_engineering", 2022),
            // As public sample files of AP214 write it.
            Schema::Ap214 => ("automotive_design", 2000),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_find_their_schema() {
        assert_eq!(Schema::of_word("ap214"), Some(Schema::Ap214));
        assert_eq!(Schema::of_word("ap242"), Some(Schema::default()));
        assert_eq!(Schema::of_word("AP214"), None);
    }
}
