//! validation
fn main() {}
