//! Each rule shown a bad snippet and a good one beside it; the scanner shown
//! what it must not read as code.

mod rules;
mod scanning;
