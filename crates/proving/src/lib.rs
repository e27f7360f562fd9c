//! Proof and break tests and what they allow.
