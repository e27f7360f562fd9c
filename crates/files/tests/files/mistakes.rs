//! One mistake each: its code, and that nothing else is reported with it.

use super::{SMALLEST, problems};
use files::read_order;

/// Adds lines to the smallest order; what is wrong with them, lines counted from the first added.
fn check(added: &str, expected: &[(usize, usize, &str)]) {
    let text = format!("{SMALLEST}{added}");
    let first = SMALLEST.lines().count();
    let found: Vec<_> = problems(&text).into_iter().map(|(line, column, code)| (line - first, column, code)).collect();
    assert_eq!(found, expected, "{added}\n{:#?}", read_order(text.as_bytes()).problems);
}

/// The same within a line of the order: the third line added is the given one.
fn check_line(given: &str, expected: &[(usize, usize, &str)]) {
    check(&format!("[[line]]\nname = \"a\"\n{given}\nkind = \"strop\"\n"), expected);
}

#[test]
fn the_smallest_order_is_good() {
    check("", &[]);
    check_line("", &[]);
}

#[test]
fn keys() {
    check_line("clour = \"red\"", &[(3, 1, "unknown-key")]);
    check_line("name = \"b\"", &[(3, 1, "duplicate-key")]);
    check("[boat]\n", &[(1, 2, "duplicate-key")]);
    check("[sails]\n[sails.main]\n[sails.main]\n", &[(3, 8, "duplicate-key")]);
    check("[loft]\ndesign_factor = 5\n[loft.design_factor]\n", &[(3, 7, "duplicate-key")]);
    check("[line]\nname = \"a\"\n", &[(1, 1, "wrong-type")]);
    check("[[loft]]\n", &[(1, 1, "wrong-type")]);
    check("[lines]\n", &[(1, 2, "unknown-key")]);
}

#[test]
fn a_misspelt_key_is_not_missing_as_well() {
    check("[[line]]\nname = \"a\"\nknid = \"strop\"\n", &[(3, 1, "unknown-key")]);
    let read = read_order(SMALLEST.replace("hull", "hul").as_bytes());
    assert_eq!(read.problems.len(), 1);
    assert_eq!(read.problems[0].hint, "did you mean hull?");
}

#[test]
fn types() {
    check_line("count = \"2\"", &[(3, 9, "wrong-type")]);
    check_line("count = 2.5", &[(3, 9, "not-a-number")]);
    check_line("count = 0", &[(3, 9, "out-of-range")]);
    check_line("count = 99999999999999999999999999999999999999999999", &[(3, 9, "out-of-range")]);
    check_line("rope = 12", &[(3, 8, "wrong-type")]);
    check_line("rope = \"\"", &[(3, 8, "empty")]);
    check_line("rush = \"yes\"", &[(3, 8, "wrong-type")]);
    check_line("candidates = \"Grey 10\"", &[(3, 14, "wrong-type")]);
    check_line("candidates = [\"Grey 10\", 10]", &[(3, 26, "wrong-type")]);
    check_line("due = 2026-03-31T10:00:00", &[(3, 7, "wrong-type")]);
    check_line("due = \"31.03.2026\"", &[(3, 7, "not-a-day")]);
    check_line("ends = \"whipped\"", &[(3, 8, "wrong-type")]);
    check_line("rope = \"a\\tb\"", &[(3, 8, "control-character")]);
    check_line(&format!("rope = \"{}\"", "x".repeat(201)), &[(3, 8, "too-long")]);
}

#[test]
fn quantities() {
    check_line("length = 12", &[(3, 10, "no-unit")]);
    check_line("length = \"12\"", &[(3, 10, "no-unit")]);
    check_line("length = \"12 kg\"", &[(3, 10, "wrong-unit")]);
    check_line("length = \"12,5 m\"", &[(3, 10, "comma")]);
    check_line("length = \"12 km\"", &[(3, 10, "wrong-unit")]);
    check_line("length = \"900 m\"", &[(3, 10, "out-of-range")]);
    check_line("length = \"1e300 m\"", &[(3, 10, "out-of-range")]);
    check_line("length = \"-3 m\"", &[(3, 10, "out-of-range")]);
    check_line("length = \"twelve metres\"", &[(3, 10, "not-a-quantity")]);
    check_line("load = { steady = \"4 kN\", peak = \"300 kg\" }", &[(3, 34, "wrong-unit")]);
    check("[sails.main]\nroach = nan\n", &[(2, 9, "out-of-range")]);
    check("[sails.main]\nroach = 1e999\n", &[(2, 9, "out-of-range")]);
    check("[sails.main]\nleech_sag = \"8\"\n", &[(2, 13, "no-unit")]);
    check("[sails.main]\nleech_sag = \"80 %\"\n", &[(2, 13, "out-of-range")]);
}

#[test]
fn forms() {
    let end = |what: &str| format!("ends = {{ working = {{ kind = \"long-bury-eye\", {what} }} }}");
    check_line(&end("on = \"12 mm pin\""), &[]);
    check_line(&end("on = \"none\""), &[]);
    check_line(&end("on = \"12 mm pim\""), &[(3, 51, "unknown-word")]);
    check_line(&end("on = \"pin\""), &[(3, 51, "no-size")]);
    check_line(&end("on = \"3 mm none\""), &[(3, 51, "contradiction")]);
    check_line(&end("on = \"12 kg pin\""), &[(3, 51, "wrong-unit")]);
    check_line(&end("on = \"12 m pin\""), &[(3, 51, "out-of-range")]);
    check_line(&end("bury = \"60 d\""), &[]);
    check_line(&end("bury = \"600 mm\""), &[]);
    check_line(&end("bury = 60"), &[(3, 53, "wrong-type")]);
    check_line(&end("bury = \"6000 d\""), &[(3, 53, "out-of-range")]);
    check_line(&end("taper = \"none\""), &[]);
    check_line(&end("taper = \"nan d\""), &[(3, 54, "unknown-word")]);
    check_line(
        "working = { hauled = [\"1 m\", \"2 m\"], eased = [\"1 m\", \"2 m\", \"3 m\"] }",
        &[(3, 22, "wrong-count")],
    );
    check_line(
        "working = { hauled = [1, \"2 m\", \"3 m\"], eased = [\"1 m\", \"2 m\", \"3 m\"] }",
        &[(3, 23, "no-unit")],
    );
}

#[test]
fn a_copied_length_wants_its_tension() {
    check_line("copied_from = { length = \"10 m\", tension = \"slack\" }", &[]);
    check_line("copied_from = { length = \"10 m\", tension = \"40 daN\" }", &[]);
    check_line("copied_from = { length = \"10 m\" }", &[(3, 15, "missing-key")]);
    check_line("copied_from = { length = \"10 m\", tension = \"0 N\" }", &[(3, 44, "out-of-range")]);
    check_line("copied_from = { length = \"10 m\", tension = \"loose\" }", &[(3, 44, "not-a-quantity")]);
}

#[test]
fn an_override_wants_name_day_and_reason() {
    check_line("override = { by = \"A. B.\", date = 2026-03-31, reason = \"tested\" }", &[]);
    check_line("override = { by = \"A. B.\" }", &[(3, 12, "missing-key"), (3, 12, "missing-key")]);
}

#[test]
fn contradictions() {
    check_line("rope = \"x\"\ncandidates = [\"y\"]", &[(3, 8, "contradiction")]);
    check_line("cover = \"strip\"", &[(3, 9, "contradiction")]);
    check_line("strip = { from = \"2 m\", to = \"1 m\" }", &[(3, 9, "contradiction")]);
    check_line("load = { steady = \"2 kN\", peak = \"1 kN\" }", &[(3, 34, "contradiction")]);
    check_line("same_reel = true", &[(3, 13, "contradiction")]);
    check_line("same_reel = true\ncount = 2", &[]);
}

#[test]
fn a_wrong_value_is_not_a_contradiction_as_well() {
    check_line("cover = \"strip\"\nstrip = { from = \"0 mm\", to = \"9\" }", &[(4, 31, "no-unit")]);
}

#[test]
fn equal_names_are_found_even_in_lines_with_other_mistakes() {
    check(
        "[[line]]\nname = \"Guy\"\nkind = \"guy\"\n[[line]]\nname = \"guy\"\nkind = \"gyu\"\n",
        &[(5, 8, "duplicate-name"), (6, 8, "unknown-word")],
    );
}

#[test]
fn syntax_in_every_statement_is_found() {
    let bad = "[loft\nbury_diameters = 72\n[sails.main]\narea = 42 m2\nmass = \"21 kg\nroach 1.2\nreefs = \n[[line]]\nname = 'a'\nkind = strop\n";
    check(
        bad,
        &[
            (1, 5, "syntax"),
            (4, 8, "no-quotes"),
            (5, 8, "syntax"),
            (6, 1, "syntax"),
            (7, 7, "syntax"),
            (10, 8, "no-quotes"),
        ],
    );
}

#[test]
fn an_open_bracket_does_not_swallow_what_follows() {
    check(
        "[[line]]\nname = \"a\"\nkind = \"strop\"\ncandidates = [\"x\", \"y\"\nlength = 3\n[[line]]\nname = \"b\"\nkind = \"strap\"\n",
        &[(4, 22, "syntax"), (5, 10, "no-unit"), (8, 8, "unknown-word")],
    );
    check_line("ends = { working = { kind = \"strop\" }\nlength = 3", &[(3, 37, "syntax"), (4, 10, "no-unit")]);
    check_line("notes = \"\"\"open\nlength = 3", &[(3, 9, "syntax"), (4, 10, "no-unit")]);
}

#[test]
fn what_toml_allows_is_read() {
    check_line("ends = { working = {\n  kind = \"strop\", # remark\n  on = \"none\",\n} }", &[]);
    check_line("candidates = [\n  \"x\", # remark\n\n  \"y\",\n]", &[]);
    check_line("notes = \"\"\"\nlength = 3\n[x]\n\"\"\"", &[]);
    check_line("load.steady = \"1 kN\"\nload.peak = \"2 kN\"", &[]);
    check_line("'colour' = '''red'''\ncount = 0x10", &[]);
    check(
        "[[line]]\nname = \"a\"\nkind = \"strop\"\n[line.load]\nsteady = \"1 kN\"\npeak = \"2 kN\"\n[[line.lead]]\nname = \"x\"\nat = [\"0 m\", \"0 m\", \"0 m\"]\non = \"cam\"\n",
        &[],
    );
}

#[test]
fn what_toml_forbids_is_refused() {
    check_line("load = { steady = \"1 kN\" }\nload.peak = \"2 kN\"", &[(4, 1, "duplicate-key")]);
    check_line("colour = \"red\" rope = \"x\"", &[(3, 16, "syntax")]);
    check_line("rope = \"\\q\"", &[(3, 10, "syntax")]);
    check_line("rope = “Grey 10”", &[(3, 8, "syntax")]);
}

#[test]
fn the_version_is_the_first_thing() {
    let codes = |text: String| problems(&text);
    assert_eq!(codes(SMALLEST.replace("becket = 1\n", "")), [(1, 1, "missing-key")]);
    assert_eq!(codes(SMALLEST.replace("becket = 1", "becket = 2")), [(1, 10, "out-of-range")]);
}
