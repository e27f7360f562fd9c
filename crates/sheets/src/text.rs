//! Text from users made fit to print.
//!
//! Text reaches the page as a value, so it cannot become markup. What is done
//! here is only what paper needs: characters that the fonts cannot print, and
//! those that would change the reading direction of what follows, are printed
//! as their code points, so nothing is lost or hidden; words too long for a
//! column may break; text for a fixed box is shortened with an ellipsis.

use crate::pictures::advance;
use crate::world::printable;

/// Words longer than this may break.
const LONG_WORD: usize = 24;

/// Where a long word may break.
const BREAK_EVERY: usize = 12;

/// Characters of a number with its unit.
const NUMBER: usize = 20;

/// Numbers are set large, so they may break sooner.
const LONG_NUMBER: usize = 12;

/// Text that may wrap.
pub(crate) fn wrapping(text: &str) -> String {
    breakable(&printed(text), LONG_WORD)
}

/// A number with its unit, set large.
pub(crate) fn number(text: &str) -> String {
    breakable(&shortened(&printed(text), NUMBER), LONG_NUMBER)
}

/// Words for the foot of a page: two short lines at most.
pub(crate) fn foot(text: &str) -> String {
    breakable(&shortened(&printed(text), 22), LONG_NUMBER)
}

/// A number with its unit for a drawing.
pub(crate) fn drawn_number(text: &str) -> String {
    drawn(text, NUMBER)
}

/// Text for a fixed box: at most `most` characters, shortened visibly.
pub(crate) fn boxed(text: &str, most: usize) -> String {
    breakable(&shortened(&printed(text), most), LONG_WORD)
}

/// Text for a drawing: shortened, never broken.
pub(crate) fn drawn(text: &str, most: usize) -> String {
    shortened(&printed(text), most)
}

/// Lines that a text at the small size takes in a column of `width_mm`, about:
/// words are not kerned here, and long ones not broken.
pub(crate) fn lines_taken(text: &str, width_mm: f64) -> usize {
    let space = advance(" ");
    let (mut lines, mut used) = (1, 0.0);
    for word in text.split_whitespace() {
        let wide = advance(word);
        if used > 0.0 && used + space + wide > width_mm {
            lines += 1;
            used = wide;
        } else {
            used += if used > 0.0 { space + wide } else { wide };
        }
    }
    lines
}

/// The text with what cannot be printed written as code points.
fn printed(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut foreign = false;
    // The fonts have no root sign, and formulas need one.
    for character in text.replace('√', "sqrt ").chars() {
        if character.is_whitespace() && !turns(character) && (character.is_control() || !printable(character)) {
            foreign = close(&mut out, foreign);
            out.push(' ');
        } else if character.is_control() || turns(character) || !printable(character) {
            out.push_str(if foreign { " " } else { "‹" });
            out.push_str(&format!("U+{:04X}", character as u32));
            foreign = true;
        } else {
            foreign = close(&mut out, foreign);
            out.push(character);
        }
    }
    close(&mut out, foreign);
    out
}

fn close(out: &mut String, foreign: bool) -> bool {
    if foreign {
        out.push('›');
    }
    false
}

/// Characters that are not seen but change how others are read.
fn turns(character: char) -> bool {
    matches!(
        character,
        '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'
    )
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// Lets words of more than `most` characters break by zero-width spaces.
fn breakable(text: &str, most: usize) -> String {
    let mut out = String::with_capacity(text.len());
    for (index, word) in text.split(' ').enumerate() {
        if index > 0 {
            out.push(' ');
        }
        let long = word.chars().count() > most;
        for (at, character) in word.chars().enumerate() {
            if long && at > 0 && at % BREAK_EVERY.min(most) == 0 {
                out.push('\u{200b}');
            }
            out.push(character);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(given: &str, expected: &str) {
        assert_eq!(printed(given), expected);
    }

    #[test]
    fn what_cannot_be_printed_is_written_as_code_points() {
        check("#set page()[*]$x$ <a>", "#set page()[*]$x$ <a>");
        check("Zoë Ñandú Ærø", "Zoë Ñandú Ærø");
        check("a\u{7}b", "a‹U+0007›b");
        check("a\tb\r\nc", "a b  c");
        check("x\u{202e}y", "x‹U+202E›y");
        check("⛵🚢!", "‹U+26F5 U+1F6A2›!");
        check("שם", "‹U+05E9 U+05DD›");
    }

    #[test]
    fn long_words_may_break_and_keep_their_letters() {
        let word = "x".repeat(10_000);
        let out = wrapping(&word);
        assert_eq!(out.replace('\u{200b}', ""), word);
        assert!(out.split('\u{200b}').all(|part| part.chars().count() <= BREAK_EVERY));
    }

    #[test]
    fn a_text_takes_more_lines_in_a_narrower_column() {
        let text = "open the braid at mark 8 and push the puller in towards mark 6, then draw it through";
        assert_eq!(lines_taken(text, 400.0), 1);
        assert_eq!(lines_taken(text, 87.0), 2);
        assert!(lines_taken(text, 30.0) > 4);
        assert_eq!(lines_taken("", 30.0), 1);
    }

    #[test]
    fn boxes_shorten_visibly() {
        assert_eq!(boxed("main halyard", 12), "main halyard");
        assert_eq!(boxed("main halyards", 12), "main halyar…");
        assert_eq!(drawn(&"é".repeat(300), 5), "éééé…");
    }
}
