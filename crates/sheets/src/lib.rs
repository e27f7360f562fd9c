//! Bench cards and cut plans as PDF.
