//! benches
fn main() {}
