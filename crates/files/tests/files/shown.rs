//! How problems are shown: line, column, underline, 80 columns, nothing that
//! moves the cursor.

use files::{Place, Problem, Source, read_order, read_rack, render};

fn shown(name: &str, bytes: &[u8], problem: Problem) -> String {
    render(&Source::new(name, bytes), &[problem])
}

#[test]
fn a_value_in_a_spreadsheet() {
    let bytes = "reel,rope,length\nA-1,\"Möwe, grey\",40\n".as_bytes();
    let text = render(&Source::new("rack.csv", bytes), &read_rack(bytes).problems);
    assert_eq!(
        text,
        "\
error[no-unit]: \"40\" has no unit
 --> rack.csv:2:18
  |
2 | A-1,\"Möwe, grey\",40
  |                  ^^
  |
  = allowed: a length from 1 mm to 5,000 m, in mm, cm, m, in or ft
  = do: write it with its unit and in quotes, such as \"40 mm\"

rack.csv: 1 problem
"
    );
}

#[test]
fn two_places() {
    let bytes = b"becket = 1\nbecket = 1\n";
    let problem =
        read_order(bytes).problems.into_iter().find(|problem| problem.code == "duplicate-key").expect("found");
    assert_eq!(
        shown("order.toml", bytes, problem),
        "\
error[duplicate-key]: \"becket\" stands twice
 --> order.toml:2:1
  |
2 | becket = 1
  | ^^^^^^
 ::: order.toml:1:1
  |
1 | becket = 1
  | ------ the first is here
  |
  = allowed: each key once in its table
  = do: leave one of them out

order.toml: 1 problem
"
    );
}

#[test]
fn a_long_line_is_cut_around_the_place() {
    let text = format!("{}loa = \"10\"{}", "x".repeat(5000), "y".repeat(5000));
    let problem = Problem::new("no-unit", "no unit").at(Place { start: 5006, end: 5010 });
    let shown = shown("order.toml", text.as_bytes(), problem);
    assert!(shown.contains("--> order.toml:1:5007\n"), "{shown}");
    let line = shown.lines().find(|line| line.contains("loa")).expect("the line");
    let under = shown.lines().find(|line| line.contains('^')).expect("the underline");
    let column = line.chars().position(|c| c == '"').expect("the place");
    assert_eq!(under.chars().position(|c| c == '^'), Some(column));
    assert_eq!(under.matches('^').count(), 4);
    assert!(line.contains('…') && line.chars().count() <= 80, "{line}");
}

#[test]
fn what_would_move_the_cursor_is_replaced() {
    let text = "name = \"\u{1b}[2J\u{202e}x\t\u{7f}\"\n";
    let problem = Problem::new("x", "y").given("\u{1b}[2J").at(Place { start: 7, end: text.len() - 1 });
    let shown = shown("a\u{1b}b.toml", text.as_bytes(), problem);
    assert!(!shown.chars().any(|c| c.is_control() && c != '\n'), "{shown:?}");
    assert!(shown.contains("␛[2J"), "{shown}");
}

#[test]
fn a_place_of_several_lines_is_shown_on_its_first() {
    let text = "a = [\n1,\n2]\n";
    let shown = shown("f", text.as_bytes(), Problem::new("x", "y").at(Place { start: 4, end: 11 }));
    assert!(shown.contains("1 | a = [\n  |     ^\n"), "{shown}");
}

#[test]
fn the_end_of_a_file_has_a_place() {
    let shown = shown("f", b"abc", Problem::new("x", "y").at(Place { start: 3, end: 3 }));
    assert!(shown.contains(" --> f:1:4\n"), "{shown}");
    let far = render(&Source::new("f", b""), &[Problem::new("x", "y").at(Place { start: 30, end: 90 })]);
    assert!(far.contains(" --> f:1:1\n"), "{far}");
}

#[test]
fn a_problem_without_a_place_names_the_file() {
    let text = render(&Source::new("order.toml", b""), &read_order(b"").problems);
    assert_eq!(
        text,
        "error[empty-file]: the file is empty\n--> order.toml\n = do: check that this is the file you meant\n\norder.toml: 1 problem\n"
    );
}

#[test]
fn nothing_wrong_is_nothing_shown() {
    assert_eq!(render(&Source::new("f", b"x"), &[]), "");
}
