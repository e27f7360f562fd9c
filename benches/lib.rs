//! How long answers take. Each bench is a file beside this one, run by
//! `cargo bench -p benches --bench NAME`; a folder of its name keeps the
//! scripts of the peers it is measured against, and the report.
