//! Problems as text for a terminal: the line, the place underlined, what was
//! given, what is allowed, what to do. Plain text of at most 80 columns.

use crate::place::Place;
use crate::problem::{Problem, Related};
use crate::source::{Shown, Source, visible};
use annotate_snippets::{AnnotationKind, Element, Level, Origin, Renderer, Snippet};

/// More problems than this are counted, not shown.
pub const MOST_SHOWN: usize = 50;

const WIDTH: usize = 80;

/// Columns of the marks at both ends of a line that is cut.
const CUT_MARKS: usize = 2;

/// All problems of a file as text, each with its place shown, a blank line
/// between them, and a last line that counts them.
///
/// ```
/// let bytes = b"becket = 1\nflags = 3\n";
/// let problems = files::read_order(bytes).problems;
/// let text = files::render(&files::Source::new("order.toml", bytes), &problems[3..]);
/// assert_eq!(text, "\
/// error[unknown-key]: \"flags\" is not known in the file
///  --> order.toml:2:1
///   |
/// 2 | flags = 3
///   | ^^^^^
///   |
///   = allowed: becket, order, boat, sails, assumed, use, loft, line
///   = do: leave it out, or put it into notes
///
/// order.toml: 1 problem
/// ");
/// ```
#[must_use]
pub fn render(source: &Source<'_>, problems: &[Problem]) -> String {
    let mut text = String::new();
    for problem in problems.iter().filter(|problem| problem.code != "more-problems").take(MOST_SHOWN) {
        text.push_str(&one(source, problem));
        text.push_str("\n\n");
    }
    if !problems.is_empty() {
        text.push_str(&last_line(source, problems));
    }
    text
}

fn last_line(source: &Source<'_>, problems: &[Problem]) -> String {
    let listed = problems.iter().filter(|problem| problem.code != "more-problems").count();
    let name = plain_name(source);
    let noun = if listed == 1 { "problem" } else { "problems" };
    let shown = if listed > MOST_SHOWN { format!(", the first {MOST_SHOWN} shown") } else { String::new() };
    let stopped = problems.iter().find(|problem| problem.code == "more-problems");
    let stopped = stopped.map_or(String::new(), |problem| format!("{}\n", problem.message));
    format!("{name}: {listed} {noun}{shown}\n{stopped}")
}

fn one(source: &Source<'_>, problem: &Problem) -> String {
    let title = wrapped(&problem.message, WIDTH - problem.code.len() - "error[]: ".len());
    let mut elements: Vec<Element<'_>> = Vec::new();
    match problem.place {
        Some(place) => elements.extend(snippet(source, place, (AnnotationKind::Primary, ""))),
        None => elements.push(Origin::path(plain_name(source)).into()),
    }
    for Related { text, place } in &problem.related {
        elements.extend(snippet(source, *place, (AnnotationKind::Context, text)));
    }
    let seen = problem.place.is_some_and(|place| source.shown(place, 60).text.contains(&problem.given));
    if !seen && !problem.given.is_empty() {
        elements.push(note("given", &problem.given));
    }
    if !problem.allowed.is_empty() {
        elements.push(note("allowed", &problem.allowed));
    }
    if !problem.hint.is_empty() {
        elements.push(note("do", &problem.hint));
    }
    let group = Level::ERROR.primary_title(title).id(problem.code).elements(elements);
    without_seams(&Renderer::plain().term_width(WIDTH).render(&[group]))
}

/// Without the line that the renderer puts between a place's name and its
/// snippet. No line of the file can be taken for it: those carry a number.
fn without_seams(text: &str) -> String {
    let seam = |line: &str| line.starts_with(' ') && line.trim() == ":::" && line.len() < 16;
    text.lines().filter(|line| !seam(line)).map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// The file's name, whole, without what would move the cursor.
fn plain_name(source: &Source<'_>) -> String {
    source.name().chars().map(visible).collect()
}

fn note(name: &'static str, text: &str) -> Element<'static> {
    // "   = name: " before it; deeper line numbers move it two columns at most.
    Level::NOTE.with_name(name).message(wrapped(text, WIDTH - name.len() - 13)).into()
}

/// The line of a place under its name, line and column.
fn snippet<'s>(source: &Source<'_>, place: Place, (kind, label): (AnnotationKind, &str)) -> [Element<'s>; 2] {
    let position = source.position(place);
    let margin = position.line.to_string().len() + 4;
    let label_width = if label.is_empty() { 0 } else { label.chars().count() + 1 };
    let Shown { text, start, end } = source.shown(place, WIDTH - margin - label_width - CUT_MARKS);
    let annotation = kind.span(start..end);
    let annotation = if label.is_empty() { annotation } else { annotation.label(label.to_owned()) };
    let origin = Origin::path(plain_name(source)).line(position.line).char_column(position.column);
    [origin.into(), Snippet::source(text).line_start(position.line).annotation(annotation).into()]
}

/// Text in lines of at most `width` characters, broken at spaces where it can be.
fn wrapped(text: &str, width: usize) -> String {
    let mut lines = vec![String::new()];
    let mut length = 0;
    for word in text.split_whitespace() {
        let mut word: Vec<char> = word.chars().collect();
        if length > 0 && length + 1 + word.len() > width {
            lines.push(String::new());
            length = 0;
        }
        while word.len() > width {
            let rest = word.split_off(width);
            lines.push(word.iter().collect());
            lines.push(String::new());
            word = rest;
        }
        if let Some(line) = lines.last_mut() {
            if length > 0 {
                line.push(' ');
                length += 1;
            }
            line.extend(&word);
            length += word.len();
        }
    }
    lines.retain(|line| !line.is_empty());
    lines.join("\n")
}
