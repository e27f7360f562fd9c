//! A calendar that other programs subscribe to: iCalendar, RFC 5545.
//!
//! Whole-day entries, each with an identifier that stays the same from one
//! reading to the next, so that a date that moved is moved and not doubled.
//! Lines end in CR LF and are folded at 75 octets between characters; commas,
//! semicolons, backslashes and line breaks in texts are escaped (sections 3.1
//! and 3.3.11). An independent parser reads it in a kept script.

use crate::value::Date;
use std::fmt::Write;

/// A calendar of whole days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar<'a> {
    /// Its name, as a calendar program lists it.
    pub name: &'a str,
    /// When it was made, UTC: `2026-11-25T14:05:00Z`.
    pub made_at: &'a str,
    /// Its entries.
    pub entries: &'a [CalendarEntry],
}

/// One whole-day entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarEntry {
    /// The same from one reading to the next, and no other entry's.
    pub id: String,
    /// The day.
    pub day: Date,
    /// In a few words.
    pub summary: String,
    /// The rest; may have several lines.
    pub description: String,
    /// How often it changed.
    pub revision: u32,
}

/// The calendar as text.
///
/// ```
/// use files::{Calendar, CalendarEntry, Date, calendar};
/// let entry = CalendarEntry {
///     id: "P-0042.look@becket".to_owned(),
///     day: Date::new(2027, 12, 31).unwrap(),
///     summary: "look at jib sheet, P-0042".to_owned(),
///     description: String::new(),
///     revision: 3,
/// };
/// let text = calendar(&Calendar { name: "due list", made_at: "2026-11-25T14:05:00Z", entries: &[entry] });
/// assert!(text.contains("DTSTART;VALUE=DATE:20271231\r\nDTEND;VALUE=DATE:20280101\r\n"));
/// assert!(text.contains("SUMMARY:look at jib sheet\\, P-0042\r\n"));
/// ```
#[must_use]
pub fn calendar(of: &Calendar<'_>) -> String {
    let mut text = String::with_capacity(200 + 400 * of.entries.len());
    let stamp: String = of.made_at.chars().filter(|c| !matches!(c, '-' | ':')).collect();
    // A fraction of a second has no place in this format.
    let stamp = match stamp.split_once('.') {
        Some((whole, _)) => format!("{whole}Z"),
        None => stamp,
    };
    put(&mut text, "BEGIN", "VCALENDAR");
    put(&mut text, "VERSION", "2.0");
    put(&mut text, "PRODID", "-//Becket//due list//EN");
    put(&mut text, "CALSCALE", "GREGORIAN");
    put(&mut text, "METHOD", "PUBLISH");
    put(&mut text, "X-WR-CALNAME", &escaped(of.name));
    for entry in of.entries {
        put(&mut text, "BEGIN", "VEVENT");
        put(&mut text, "UID", &escaped(&entry.id));
        put(&mut text, "DTSTAMP", &stamp);
        put(&mut text, "DTSTART;VALUE=DATE", &digits(entry.day));
        put(&mut text, "DTEND;VALUE=DATE", &digits(next_day(entry.day)));
        put(&mut text, "SEQUENCE", &entry.revision.to_string());
        put(&mut text, "SUMMARY", &escaped(&entry.summary));
        if !entry.description.is_empty() {
            put(&mut text, "DESCRIPTION", &escaped(&entry.description));
        }
        put(&mut text, "TRANSP", "TRANSPARENT");
        put(&mut text, "END", "VEVENT");
    }
    put(&mut text, "END", "VCALENDAR");
    text
}

fn digits(day: Date) -> String {
    format!("{:04}{:02}{:02}", day.year, day.month, day.day)
}

/// An entry of one day ends where the next begins.
fn next_day(day: Date) -> Date {
    Date::new(day.year, day.month, day.day + 1)
        .or_else(|| Date::new(day.year, day.month + 1, 1))
        .or_else(|| Date::new(day.year + 1, 1, 1))
        .unwrap_or(day)
}

/// Text with what means something to the format escaped; control characters,
/// which it may not hold, are left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.replace("\r\n", "\n").chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// One content line, folded: no more than 75 octets before each line break.
fn put(text: &mut String, name: &str, value: &str) {
    const MOST: usize = 75;
    let mut octets = 0;
    for c in name.chars().chain([':']).chain(value.chars()) {
        if octets + c.len_utf8() > MOST {
            text.push_str("\r\n ");
            octets = 1;
        }
        octets += c.len_utf8();
        text.push(c);
    }
    // Writing to a string cannot fail.
    let _ = write!(text, "\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_folded_between_characters_at_75_octets() {
        let entry = CalendarEntry {
            id: "a@becket".to_owned(),
            day: Date::new(2028, 2, 28).unwrap(),
            summary: "ä€𝄞; back\\slash, and more ".repeat(20),
            description: "one\r\ntwo\u{7}\n".to_owned(),
            revision: 0,
        };
        let text =
            calendar(&Calendar { name: "n", made_at: "2026-11-25T14:05:00.5Z", entries: std::slice::from_ref(&entry) });
        assert!(text.split("\r\n").all(|line| line.len() <= 75 && !line.contains(['\r', '\n'])));
        let unfolded = text.replace("\r\n ", "");
        let unescape = |line: &str| line.replace("\\;", ";").replace("\\,", ",").replace("\\\\", "\\");
        let summary = unfolded.split("\r\n").find_map(|line| line.strip_prefix("SUMMARY:")).unwrap();
        assert_eq!(unescape(summary), entry.summary);
        assert!(unfolded.contains("DESCRIPTION:one\\ntwo\\n\r\n"), "control characters are left out");
        assert!(unfolded.contains("DTSTAMP:20261125T140500Z\r\n"));
        assert!(unfolded.contains("DTEND;VALUE=DATE:20280229\r\n"), "a leap year");
    }
}
