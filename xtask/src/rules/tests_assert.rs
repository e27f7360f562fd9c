//! Tests that can fail: each asserts something, none is skipped, none is
//! content with a panic.
//!
//! A test asserts when its body says `assert…`, `prop_assert…`,
//! `unwrap_err`, `expect_err` or `?`, or calls a function or macro of its
//! package's test code that does.

use crate::metadata::Package;
use crate::scan::{Function, code_only, functions, line_of, test_modules, words};
use crate::{Fault, File};
use std::collections::BTreeSet;

const RULE: &str = "tests";

/// The tests of every package.
pub fn check(packages: &[Package], files: &[File]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for package in packages {
        let folder = format!("{}/", package.folder);
        let own: Vec<(&File, String)> = files
            .iter()
            .filter(|file| file.is_rust() && file.path.starts_with(&folder))
            .map(|file| (file, code_only(&file.text)))
            .collect();
        let asserting = asserting_names(&own);
        for (file, code) in &own {
            faults.extend(check_file(file, code, &asserting));
        }
    }
    faults
}

fn check_file(file: &File, code: &str, asserting: &BTreeSet<&str>) -> Vec<Fault> {
    let mut faults = Vec::new();
    for function in functions(code).iter().filter(|function| is_test(function)) {
        let mut fault = |text: &str| {
            let text = format!("{} {text}", function.name);
            faults.push(Fault::error(RULE, &file.path, line_of(code, function.at), text));
        };
        if !asserts(function.body, asserting) {
            fault("asserts nothing, so it cannot fail");
        }
        if function.body.split_whitespace().collect::<String>().contains("assert!(true") {
            fault("asserts `true`, so it cannot fail");
        }
        if function.attributes.iter().any(|attribute| attribute.starts_with("#[ignore")) {
            fault("is ignored: mend it, or assert today's answer and say why");
        }
        if function.attributes.iter().any(|attribute| attribute.starts_with("#[should_panic")) {
            fault("is content with a panic: assert the error instead");
        }
    }
    faults
}

fn is_test(function: &Function<'_>) -> bool {
    function.attributes.iter().any(|attribute| {
        attribute == "#[test]" || attribute.starts_with("#[rstest") || attribute.starts_with("#[test_case")
    })
}

fn asserts(body: &str, asserting: &BTreeSet<&str>) -> bool {
    body.contains('?')
        || words(body).any(|(at, word)| {
            let called = body[at + word.len()..].starts_with(['(', '!', ':']);
            is_assertion(word) || (called && asserting.contains(word))
        })
}

fn is_assertion(word: &str) -> bool {
    word.starts_with("assert") || word.starts_with("prop_assert") || matches!(word, "unwrap_err" | "expect_err")
}

/// The functions and macros of test code that assert, or call one that does.
fn asserting_names<'a>(own: &'a [(&File, String)]) -> BTreeSet<&'a str> {
    let candidates: Vec<Function<'a>> = own
        .iter()
        .flat_map(|(file, code)| {
            let whole = is_test_file(&file.path);
            let modules = test_modules(code);
            let in_tests = move |at: usize| whole || modules.iter().any(|module| module.contains(&at));
            functions(code).into_iter().filter(move |function| in_tests(function.at) && !is_test(function))
        })
        .collect();
    let mut names = BTreeSet::new();
    loop {
        let more: Vec<&str> = candidates
            .iter()
            .filter(|function| !names.contains(function.name) && asserts(function.body, &names))
            .map(|function| function.name)
            .collect();
        if more.is_empty() {
            return names;
        }
        names.extend(more);
    }
}

fn is_test_file(path: &str) -> bool {
    path.contains("/tests/") || path.ends_with("/tests.rs")
}
