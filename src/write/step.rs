//! ISO 10303-21 (STEP) files, AP242.
