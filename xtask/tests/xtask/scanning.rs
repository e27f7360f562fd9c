//! Comments and literals are no code; functions, attributes and test modules
//! are found.

use xtask::scan::{closing, code_only, functions, has_word, line_of, test_modules, words};

#[track_caller]
fn hides(text: &str, word: &str) {
    let code = code_only(text);
    assert_eq!(code.len(), text.len(), "{text}: places moved");
    assert!(!has_word(&code, word), "{text}: {code}");
    assert!(has_word(&code, "kept"), "{text}: {code}");
}

#[test]
fn comments_and_literals_are_blanked() {
    hides("// hidden\nkept", "hidden");
    hides("/// hidden {\nkept", "hidden");
    hides("/* hidden /* hidden */ hidden */ kept", "hidden");
    hides("/* x */\"hidden\" kept", "hidden");
    hides("\"hidden \\\" hidden\" kept", "hidden");
    hides("r\"hidden\\\" kept", "hidden");
    hides("r#\"hidden \" hidden\"# kept", "hidden");
    hides("br##\"hidden\"# hidden\"## kept", "hidden");
    hides("b\"hidden\" kept", "hidden");
    hides("'\"' kept '\"'", "hidden");
    hides("'\\'' kept \"hidden\"", "hidden");
    hides("'é' kept \"ü hidden\"", "hidden");
    hides("fn f<'a>(x: &'a str) { kept } // hidden", "hidden");
    hides("r#kept \"hidden\" kept", "hidden");
    hides("kept \"hidden", "hidden");
}

#[test]
fn a_place_in_the_code_is_a_place_in_the_text() {
    let text = "// é\n\"a\nb\"\nfn here() {}\n";
    let code = code_only(text);
    let at = functions(&code)[0].at;
    assert_eq!(&text[at..at + 7], "fn here");
    assert_eq!(line_of(&code, at), 4);
}

#[test]
fn functions_come_with_name_body_and_attributes() {
    let code = code_only(
        "#[test]\n#[cfg(unix)]\npub(crate) const fn one<F: Fn(u8)>(f: [u8; 2]) -> [u8; 2] { a }\n\
         trait T { fn none(&self); }\n\
         proptest! { #![config(x)]\n #[test]\n fn two(x in a.prop_map(|x| { y })) { b } }\n\
         type P = fn(u8) -> u8;\n\
         macro_rules! three { () => { c } }",
    );
    let found = functions(&code);
    let names: Vec<_> = found.iter().map(|function| (function.name, function.body.trim())).collect();
    assert_eq!(names, [("one", "a"), ("two", "b"), ("three", "() => { c }")]);
    assert_eq!(found[0].attributes, ["#[test]", "#[cfg(unix)]"]);
    assert_eq!(found[1].attributes, ["#[test]"]);
}

#[test]
fn brackets_close_and_modules_of_tests_are_found() {
    assert_eq!(closing("({[]})", 0), Some(5));
    assert_eq!(closing("({", 0), None);
    assert_eq!(closing("a)", 1), None);
    let code = "fn a() {} #[cfg(test)] mod tests { fn b() {} } #[cfg(test)] mod other;";
    let modules = test_modules(code);
    assert_eq!(modules.len(), 1);
    assert_eq!(&code[modules[0].clone()], "{ fn b() {} ");
}

#[test]
fn words_are_split_at_what_no_name_contains() {
    let found: Vec<_> = words("a.b_1(é)").map(|(_, word)| word).collect();
    assert_eq!(found, ["a", "b_1", "é"]);
}
