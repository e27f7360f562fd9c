//! A file's content as a tree with places, whatever format it came in.

use crate::place::Place;
use crate::value::Date;

/// One value.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub place: Place,
    pub content: Content,
}

#[derive(Debug, Clone)]
pub(crate) enum Content {
    /// Text in quotes.
    Text(String),
    /// A bare whole number, as written without separators.
    Whole(String),
    /// A bare decimal number, as written without separators.
    Decimal(String),
    Flag(bool),
    Date(Date),
    /// A time, or a date with a time.
    Time,
    List(Vec<Node>),
    Table(Table),
    /// A cell of a spreadsheet: text that may be meant as anything.
    Cell(String),
    /// Something whose problem has been reported already.
    Broken,
}

/// Keys and values in the order of the file.
#[derive(Debug, Clone, Default)]
pub(crate) struct Table {
    pub entries: Vec<Entry>,
}

#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub key: String,
    pub key_place: Place,
    /// None where a column exists and its cell is empty.
    pub value: Option<Node>,
}

impl Node {
    pub(crate) fn new(place: Place, content: Content) -> Self {
        Node { place, content }
    }

    /// What it is, as a sentence names it.
    pub(crate) fn kind(&self) -> &'static str {
        match &self.content {
            Content::Text(_) => "text",
            Content::Cell(_) => "a cell",
            Content::Whole(_) => "a whole number",
            Content::Decimal(_) => "a decimal number",
            Content::Flag(_) => "true or false",
            Content::Date(_) => "a date",
            Content::Time => "a time",
            Content::List(_) => "a list",
            Content::Table(_) => "a table",
            Content::Broken => "unreadable",
        }
    }

    /// What it says, if it is a single value.
    pub(crate) fn given(&self) -> String {
        match &self.content {
            Content::Text(text) | Content::Cell(text) | Content::Whole(text) | Content::Decimal(text) => text.clone(),
            Content::Flag(flag) => flag.to_string(),
            Content::Date(date) => date.to_string(),
            Content::Time | Content::List(_) | Content::Table(_) | Content::Broken => String::new(),
        }
    }
}
