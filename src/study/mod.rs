//! What-if: studies of a design beyond its layout and verdicts, each a pure function of a design, its
//! layout and its report; none touches the disk. What the checks would say of other numbers is asked of
//! the real layout and the real checks; no study holds a limit of theirs again.

pub mod class;
pub mod drilled;
pub mod fit;
pub mod measured;
pub mod room;
pub mod suit;
pub mod trial;
pub mod vary;
pub mod wood;
