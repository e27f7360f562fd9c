//! becket: arguments to desk, answers to text or JSON.
fn main() {}
