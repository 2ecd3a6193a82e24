//! What-if: what the checks would say of a design with other numbers. Every study asks the real
//! layout and the real checks; none holds a limit of its own.

pub mod suit;
