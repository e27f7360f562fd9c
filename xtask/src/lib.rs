//! The project's own checks: rules that the compiler does not know, and the
//! list of everything that must pass before a change is finished.
//!
//! Each rule is a function from texts to [`Fault`]s, so that a test can show
//! it a bad snippet without a file on disk. The rules read text and not a
//! syntax tree: [`scan`] blanks comments and literals first, and what cannot
//! be seen that way (macros that write code, names brought in under another)
//! is not covered.

pub mod ci;
pub mod fault;
pub mod metadata;
pub mod rules;
pub mod scan;
pub mod tidy;
pub mod tree;

pub use fault::{Fault, Weight};
pub use tree::File;
