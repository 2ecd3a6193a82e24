//! The measuring card.
