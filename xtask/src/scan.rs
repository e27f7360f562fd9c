//! Rust text read without a parser: comments and the insides of literals
//! blanked out, words, matching brackets, functions with their attributes.
//!
//! Blanked text has the length and line breaks of the original, so that a
//! place in one is a place in the other.

/// One function or macro of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Function<'a> {
    /// Its name.
    pub name: &'a str,
    /// Where `fn` stands, in bytes.
    pub at: usize,
    /// The attributes before it, without spaces: `#[test]`.
    pub attributes: Vec<String>,
    /// The text between its braces.
    pub body: &'a str,
}

/// `text` with comments and the insides of strings and characters as spaces.
pub fn code_only(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut code = bytes.to_vec();
    let mut at = 0;
    while at < bytes.len() {
        let word_before = at > 0 && is_word(bytes[at - 1]);
        let blank = match bytes[at] {
            b'/' if bytes[at..].starts_with(b"//") => at..find(bytes, at, b"\n"),
            b'/' if bytes[at..].starts_with(b"/*") => at..block_comment_end(bytes, at),
            b'"' => at + 1..string_end(bytes, at + 1, b'"'),
            b'\'' if is_character(text, at) => at + 1..string_end(bytes, at + 1, b'\''),
            _ if !word_before => raw_string(bytes, at).unwrap_or(at..at),
            _ => at..at,
        };
        // The mark that closes a literal is not the one that opens the next.
        let closing_mark = usize::from(blank.start > at);
        at = (blank.end + closing_mark).max(at + 1);
        for byte in code[blank].iter_mut().filter(|byte| **byte != b'\n') {
            *byte = b' ';
        }
    }
    String::from_utf8(code).unwrap_or_default()
}

fn is_word(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || byte == b'_' || !byte.is_ascii()
}

fn find(bytes: &[u8], from: usize, what: &[u8]) -> usize {
    bytes[from..].windows(what.len()).position(|window| window == what).map_or(bytes.len(), |at| from + at)
}

/// Block comments nest.
fn block_comment_end(bytes: &[u8], from: usize) -> usize {
    let (mut at, mut depth) = (from, 0usize);
    while at < bytes.len() {
        if bytes[at..].starts_with(b"/*") {
            (at, depth) = (at + 2, depth + 1);
        } else if bytes[at..].starts_with(b"*/") {
            (at, depth) = (at + 2, depth - 1);
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    bytes.len()
}

fn string_end(bytes: &[u8], from: usize, quote: u8) -> usize {
    let mut at = from;
    while at < bytes.len() && bytes[at] != quote {
        at += if bytes[at] == b'\\' { 2 } else { 1 };
    }
    at.min(bytes.len())
}

/// Where the inside of a raw string begins and ends, if one stands here.
fn raw_string(bytes: &[u8], at: usize) -> Option<std::ops::Range<usize>> {
    let prefix = bytes[at..].iter().take_while(|byte| matches!(byte, b'r' | b'b' | b'c')).count();
    let hashes = bytes[at + prefix..].iter().take_while(|byte| **byte == b'#').count();
    let quote = at + prefix + hashes;
    let letters = &bytes[at..at + prefix];
    if letters.last() != Some(&b'r') || bytes.get(quote) != Some(&b'"') {
        return None;
    }
    let close: Vec<u8> = std::iter::once(b'"').chain(std::iter::repeat_n(b'#', hashes)).collect();
    Some(quote + 1..find(bytes, quote + 1, &close))
}

/// A quote opens a character, or names a lifetime.
fn is_character(text: &str, at: usize) -> bool {
    let mut after = text[at + 1..].chars();
    match after.next() {
        Some('\\') => true,
        Some(_) => after.next() == Some('\''),
        None => false,
    }
}

/// The words of a text, each with its place.
pub fn words(code: &str) -> impl Iterator<Item = (usize, &str)> {
    let bytes = code.as_bytes();
    let mut at = 0;
    std::iter::from_fn(move || {
        while at < bytes.len() && !is_word(bytes[at]) {
            at += 1;
        }
        let start = at;
        while at < bytes.len() && is_word(bytes[at]) {
            at += 1;
        }
        (start < at).then(|| (start, &code[start..at]))
    })
}

/// Whether `word` stands in `code` by itself.
pub fn has_word(code: &str, word: &str) -> bool {
    words(code).any(|(_, found)| found == word)
}

/// The line of a place, from 1.
pub fn line_of(text: &str, at: usize) -> usize {
    text.as_bytes()[..at.min(text.len())].iter().filter(|byte| **byte == b'\n').count() + 1
}

/// Where the bracket that opens at `open` closes.
pub fn closing(code: &str, open: usize) -> Option<usize> {
    let mut depth = 0usize;
    for (at, byte) in code.bytes().enumerate().skip(open) {
        match byte {
            b'(' | b'[' | b'{' => depth += 1,
            b')' | b']' | b'}' => {
                depth = depth.checked_sub(1)?;
                if depth == 0 {
                    return Some(at);
                }
            }
            _ => {}
        }
    }
    None
}

/// Every function with a body, and every `macro_rules!`, in blanked code.
pub fn functions(code: &str) -> Vec<Function<'_>> {
    let attributes = attributes_of_functions(code);
    let mut found = Vec::new();
    for (at, word) in words(code) {
        if !matches!(word, "fn" | "macro_rules") {
            continue;
        }
        let Some((name_at, name)) = words(&code[at + word.len()..]).next() else { continue };
        let name_at = name_at + at + word.len();
        // A pointer type, fn(u8), has no name.
        if code[at + word.len()..name_at].contains('(') {
            continue;
        }
        if let Some(body) = body_after(code, name_at + name.len()) {
            let own = attributes.iter().find(|(place, _)| *place == at).map(|(_, list)| list.clone());
            found.push(Function { name, at, attributes: own.unwrap_or_default(), body });
        }
    }
    found
}

/// What stands between the braces that follow a signature.
fn body_after(code: &str, from: usize) -> Option<&str> {
    let bytes = code.as_bytes();
    let mut at = from;
    while at < bytes.len() {
        match bytes[at] {
            b'(' | b'[' => at = closing(code, at)? + 1,
            b'{' => return Some(&code[at + 1..closing(code, at)?]),
            b';' => return None,
            _ => at += 1,
        }
    }
    None
}

/// The attributes of each function, by the place of its `fn`.
fn attributes_of_functions(code: &str) -> Vec<(usize, Vec<String>)> {
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(start) = code[from..].find("#[").map(|at| at + from) {
        let mut list = Vec::new();
        let mut at = start;
        while code[at..].starts_with("#[") {
            let Some(end) = closing(code, at + 1) else { return found };
            list.push(code[at..=end].split_whitespace().collect::<String>());
            at = end + 1 + spaces(&code[end + 1..]);
        }
        for (place, word) in words(&code[at..]) {
            match word {
                "fn" => {
                    found.push((at + place, list));
                    break;
                }
                "pub" | "crate" | "super" | "in" | "async" | "const" | "unsafe" | "extern" => {}
                _ => break,
            }
        }
        from = at;
    }
    found
}

fn spaces(text: &str) -> usize {
    text.len() - text.trim_start().len()
}

/// The bodies of modules that are built for tests only, as ranges of `code`.
pub fn test_modules(code: &str) -> Vec<std::ops::Range<usize>> {
    let mut ranges = Vec::new();
    let mut from = 0;
    while let Some(at) = code[from..].find("#[cfg(test)]").map(|at| at + from) {
        from = at + 1;
        let Some(open) = code[at..].find(['{', ';']).map(|offset| at + offset) else { continue };
        if code.as_bytes()[open] == b'{'
            && let Some(close) = closing(code, open)
        {
            ranges.push(open..close);
        }
    }
    ranges
}
