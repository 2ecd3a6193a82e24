//! What a key gave, what sign it may have, and which of several keys a table gives.

/// What a key gave.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Field<T> {
    /// The key is not there.
    Absent,
    /// It is there but wrong, and that is reported.
    Bad,
    /// A good value.
    Good(T),
}

impl<T> Field<T> {
    /// The value, or the default where the key is absent; `None` where it is wrong.
    pub fn or(self, default: T) -> Option<T> {
        match self {
            Field::Absent => Some(default),
            Field::Bad => None,
            Field::Good(value) => Some(value),
        }
    }

    /// The value if there is one; `None` where it is wrong.
    #[allow(clippy::option_option)]
    pub fn optional(self) -> Option<Option<T>> {
        match self {
            Field::Absent => Some(None),
            Field::Bad => None,
            Field::Good(value) => Some(Some(value)),
        }
    }

    /// A good value, whatever else it may be.
    pub fn good(self) -> Option<T> {
        match self {
            Field::Good(value) => Some(value),
            _ => None,
        }
    }

    /// Good where there is a value, else bad.
    pub fn from_option(value: Option<T>) -> Self {
        value.map_or(Field::Bad, Field::Good)
    }
}

/// The sign a length may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sign {
    Any,
    ZeroOrMore,
    AboveZero,
}

/// Which of the keys joined by "or" a table gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Choice {
    /// None, and none is needed (or that is reported).
    None,
    /// The alternative that begins with this key.
    Of(&'static str),
    /// More than one; reported.
    Several,
}
