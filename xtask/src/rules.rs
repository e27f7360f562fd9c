//! The rules, one file a subject.

pub mod arrows;
pub mod core_rooms;
pub mod manifests;
pub mod places;
pub mod registry;
pub mod shape;
pub mod tests_assert;
