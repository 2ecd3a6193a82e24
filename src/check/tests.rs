//! Tests of the checks.
