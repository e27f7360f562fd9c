//! Forms and files that come with a request, within their limits.

use crate::refusal::problem;
use axum::body::{Body, to_bytes};
use desk::Problem;
use std::collections::HashMap;

/// Largest form: an order file and its address.
pub(crate) const LARGEST_FORM: usize = 2 * 1024 * 1024;
/// Largest upload: a photo of a tablet.
pub(crate) const LARGEST_UPLOAD: usize = 16 * 1024 * 1024;

/// What a programme sends: JSON of at most 2 MB.
pub(crate) async fn sent<T: serde::de::DeserializeOwned>(body: Body) -> Result<T, Problem> {
    let bytes = to_bytes(body, LARGEST_FORM)
        .await
        .map_err(|_| problem("too-large", "what was sent is larger than 2 MB", "send less at once"))?;
    serde_json::from_slice(&bytes).map_err(|why| {
        problem("not-json", format!("what was sent cannot be read: {why}"), "/api/openapi.json says what is wanted")
    })
}

/// A form's fields; the last of a name counts, as a browser sends them.
#[derive(Debug, Clone, Default)]
pub(crate) struct Fields(HashMap<String, Vec<String>>);

impl Fields {
    /// Reads a form from a request's body.
    pub(crate) async fn of_body(body: Body) -> Result<Fields, Problem> {
        let bytes = to_bytes(body, LARGEST_FORM).await.map_err(|_| {
            problem("too-large", "the form is larger than 2 MB", "split the order, or bring it in as a file")
        })?;
        Ok(Fields::of_text(&String::from_utf8_lossy(&bytes)))
    }

    /// Reads `a=1&b=2`.
    pub(crate) fn of_text(text: &str) -> Fields {
        let mut fields: HashMap<String, Vec<String>> = HashMap::new();
        for pair in text.split('&').filter(|pair| !pair.is_empty()) {
            let (name, value) = pair.split_once('=').unwrap_or((pair, ""));
            fields.entry(decoded(name)).or_default().push(decoded(value));
        }
        Fields(fields)
    }

    /// Fields that are known by other means than a form.
    pub(crate) fn of_pairs(pairs: impl IntoIterator<Item = (String, String)>) -> Fields {
        Fields(pairs.into_iter().map(|(name, value)| (name, vec![value])).collect())
    }

    /// Was it sent at all, empty or not?
    pub(crate) fn has(&self, name: &str) -> bool {
        self.0.contains_key(name)
    }

    /// A field's text, without space round it; `None` when empty or missing.
    pub(crate) fn text(&self, name: &str) -> Option<String> {
        let text = self.0.get(name)?.last()?.trim();
        (!text.is_empty()).then(|| text.to_owned())
    }

    /// A field exactly as it was typed.
    pub(crate) fn raw(&self, name: &str) -> String {
        self.0.get(name).and_then(|values| values.last()).cloned().unwrap_or_default()
    }

    /// Every value of a name.
    pub(crate) fn all(&self, name: &str) -> Vec<String> {
        self.0.get(name).cloned().unwrap_or_default()
    }

    /// Fields whose names begin so, each with the rest of its name and its
    /// text; in the order of the names.
    pub(crate) fn starting(&self, with: &str) -> Vec<(String, String)> {
        let mut found: Vec<(String, String)> =
            self.0.keys().filter_map(|name| Some((name.strip_prefix(with)?.to_owned(), self.text(name)?))).collect();
        found.sort();
        found
    }

    /// A whole number.
    pub(crate) fn number(&self, name: &str) -> Option<i64> {
        self.text(name)?.parse().ok()
    }
}

/// `%41` and `+` turned back; what is no UTF-8 is shown as such.
fn decoded(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        at += 1;
        match byte {
            b'+' => out.push(b' '),
            b'%' => match text.get(at..at + 2).and_then(|two| u8::from_str_radix(two, 16).ok()) {
                Some(value) => {
                    out.push(value);
                    at += 2;
                }
                None => out.push(b'%'),
            },
            other => out.push(*other),
        }
    }
    // A browser sends line ends as CR LF; the text had LF.
    String::from_utf8_lossy(&out).replace("\r\n", "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_come_back_as_they_were_typed() {
        let fields = Fields::of_text("text=a+b%0D%0Ac%C3%A9%25&tick=1&tick=2&none=");
        assert_eq!(fields.raw("text"), "a b\nc\u{e9}%");
        assert_eq!(fields.all("tick"), ["1", "2"]);
        assert_eq!((fields.text("none"), fields.text("missing")), (None, None));
        assert_eq!(Fields::of_text("x=%zz%4").raw("x"), "%zz%4");
    }
}
