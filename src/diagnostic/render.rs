//! Drawing a diagnostic for a person.
