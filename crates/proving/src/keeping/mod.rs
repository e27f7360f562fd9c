//! What happens to a piece after the bench: inspected, turned, shortened,
//! re-spliced, retired, and when it must be looked at.

mod condition;
mod due;
mod life;
mod residual;

pub use condition::{Condition, Criterion, Inspected, Limit, Reading, ReadingError, form, judge};
pub use due::{Due, DueRow, due_list};
pub use life::{Event, Interval, Life, LifeError, State};
pub use residual::{Residual, UsedTests, residual};
