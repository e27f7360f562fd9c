//! TOML to the tree that records are read from, statement by statement.
//!
//! Statements are read by the TOML parser one at a time and put together
//! here by the format's rules: a table has one header, a key stands once, a
//! table in braces is closed. A file in which that finds nothing is read once
//! more as a whole, so nothing passes that the format does not allow.

use crate::bytes::Text;
use crate::node::{Content, Entry, Node, Table};
use crate::place::Place;
use crate::problem::{Log, Problem};
use crate::record::quoted;
use crate::statements::{DEEPEST, Statement, statements};
use crate::syntax;
use crate::value::Date;
use std::collections::HashMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Longest statement that is read, in bytes. The parser keeps every error of
/// one, so this bounds the memory that rubbish takes.
const LONGEST_STATEMENT: usize = 1 << 17;

/// The tree of a whole file; its mistakes go to the log.
pub(crate) fn read(file: &Text<'_>, log: &mut Log) -> Content {
    let mut tree = Tree { root: Branch::default(), current: Some(Vec::new()) };
    let mut problems = 0;
    for statement in statements(file.text) {
        problems += read_statement(file, &statement, &mut tree, log);
        if log.is_full() {
            break;
        }
    }
    if problems == 0
        && let Err(error) = DeTable::parse(file.text)
    {
        log.push(syntax::problem(file.text, &[error], file.offset));
    }
    Content::Table(tree.root.into_table())
}

/// Where values go: a table under construction.
#[derive(Debug, Default)]
struct Branch {
    keys: HashMap<String, usize>,
    items: Vec<Item>,
    /// Made by its own header, or by assignments in it.
    headed: bool,
}

#[derive(Debug)]
struct Item {
    key: String,
    key_place: Place,
    place: Place,
    held: Held,
}

#[derive(Debug)]
enum Held {
    Value(Content),
    Branch(Branch),
    /// `[[key]]`: the tables in order, each with the place of its header.
    Branches(Vec<(Place, Branch)>),
}

struct Tree {
    root: Branch,
    /// The table that assignments go to; None below a header that cannot be read.
    current: Option<Vec<String>>,
}

impl Branch {
    fn into_table(self) -> Table {
        let entries = self.items.into_iter().map(|item| {
            let content = match item.held {
                Held::Value(content) => content,
                Held::Branch(branch) => Content::Table(branch.into_table()),
                Held::Branches(branches) => Content::List(
                    branches
                        .into_iter()
                        .map(|(place, branch)| Node::new(place, Content::Table(branch.into_table())))
                        .collect(),
                ),
            };
            Entry { key: item.key, key_place: item.key_place, value: Some(Node::new(item.place, content)) }
        });
        Table { entries: entries.collect() }
    }

    fn find(&self, key: &str) -> Option<&Item> {
        self.keys.get(key).map(|index| &self.items[*index])
    }

    fn find_mut(&mut self, key: &str) -> Option<&mut Item> {
        self.keys.get(key).map(|index| &mut self.items[*index])
    }

    fn add(&mut self, item: Item) {
        self.keys.insert(item.key.clone(), self.items.len());
        self.items.push(item);
    }

    /// The table of `key`, made if there is none; the place of what is in the way otherwise.
    fn descend(&mut self, key: &str, place: Place) -> Result<&mut Branch, Place> {
        if self.find(key).is_none() {
            self.add(Item { key: key.to_owned(), key_place: place, place, held: Held::Branch(Branch::default()) });
        }
        let Some(item) = self.find_mut(key) else {
            return Err(place);
        };
        let in_the_way = item.key_place;
        match &mut item.held {
            Held::Branch(branch) => Ok(branch),
            Held::Branches(branches) => branches.last_mut().map(|(_, branch)| branch).ok_or(in_the_way),
            Held::Value(_) => Err(in_the_way),
        }
    }
}

/// Reads one statement into the tree; the number of problems it had.
fn read_statement(file: &Text<'_>, statement: &Statement, tree: &mut Tree, log: &mut Log) -> usize {
    let offset = file.offset + statement.range.start;
    if let Some(at) = statement.too_deep {
        let place = Place { start: file.offset + at, end: file.offset + at + 1 };
        let message = format!("brackets or dotted keys are nested deeper than {DEEPEST}");
        log.push(Problem::new("too-deep", message).allowed("five levels are enough for any order").at(place));
        return 1;
    }
    let text = &file.text[statement.range.clone()];
    if text.len() > LONGEST_STATEMENT {
        let message = format!("one statement runs over {} bytes", units::group_thousands(text.len() as f64, 0));
        let allowed = format!("at most {}", units::group_thousands(LONGEST_STATEMENT as f64, 0));
        log.push(Problem::new("too-long", message).allowed(allowed).at(Place { start: offset, end: offset + 1 }));
        return 1;
    }
    let (parsed, errors) = DeTable::parse_recoverable(text);
    let mut count = 0;
    let broken = !errors.is_empty();
    if broken {
        log.push(syntax::problem(text, &errors, offset));
        count += 1;
    }
    if broken && parsed.get_ref().is_empty() {
        tree.mark_broken(text, offset);
        return count;
    }
    let header = text.starts_with('[');
    let outcome = if header {
        tree.open(parsed.get_ref(), text, offset)
    } else {
        tree.assign(parsed.get_ref(), Assigned { broken, offset })
    };
    if let Err(problem) = outcome {
        if !broken {
            log.push(*problem);
        }
        count += 1;
    }
    count
}

/// How an assignment was read.
#[derive(Clone, Copy)]
struct Assigned {
    broken: bool,
    offset: usize,
}

fn twice(key: &str, place: Place, first: Place) -> Box<Problem> {
    Box::new(
        Problem::new("duplicate-key", format!("{} stands twice", quoted(key)))
            .given(key)
            .allowed("each key once in its table")
            .hint("leave one of them out")
            .at(place)
            .and("the first is here", first),
    )
}

impl Tree {
    /// `[a.b]` or `[[a.b]]`: what follows goes there.
    fn open(&mut self, parsed: &DeTable<'_>, text: &str, offset: usize) -> Result<(), Box<Problem>> {
        self.current = None;
        let place = Place { start: offset, end: offset + text.split('#').next().unwrap_or(text).trim_end().len() };
        let mut path = Vec::new();
        let mut level = parsed;
        let mut many = false;
        while let Some((key, value)) = level.iter().next() {
            path.push((key.get_ref().to_string(), Place::of(key.span(), offset)));
            match value.get_ref() {
                DeValue::Table(table) => level = table,
                DeValue::Array(_) => {
                    many = true;
                    break;
                }
                _ => break,
            }
        }
        let Some(((key, key_place), above)) = path.split_last() else {
            return Err(Box::new(Problem::new("syntax", "the header names no table").at(place)));
        };
        let mut branch = &mut self.root;
        for (key, key_place) in above {
            branch = branch.descend(key, *key_place).map_err(|first| twice(key, *key_place, first))?;
        }
        if many {
            add_branch(branch, key, *key_place, place)?;
        } else {
            let made = branch.find(key).is_none();
            let below = branch.descend(key, *key_place).map_err(|first| twice(key, *key_place, first))?;
            let headed = std::mem::replace(&mut below.headed, true);
            let Some(item) = branch.find_mut(key) else { return Ok(()) };
            if headed || matches!(item.held, Held::Branches(_)) {
                return Err(twice(key, *key_place, item.key_place));
            }
            item.place = place;
            if !made {
                item.key_place = *key_place;
            }
        }
        self.current = Some(path.into_iter().map(|(key, _)| key).collect());
        Ok(())
    }

    /// A statement of which not even the key was read: the word it begins
    /// with is taken for broken, so that it is not reported missing as well.
    fn mark_broken(&mut self, text: &str, offset: usize) {
        let length = text.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(text.len());
        let (key, place) = (text[..length].to_owned(), Place { start: offset, end: offset + length });
        let Some(branch) = self.current_branch() else { return };
        if !key.is_empty() && branch.find(&key).is_none() {
            branch.add(Item { key, key_place: place, place, held: Held::Value(Content::Broken) });
        }
    }

    /// The table that assignments go to.
    fn current_branch(&mut self) -> Option<&mut Branch> {
        let mut branch = &mut self.root;
        for key in self.current.as_ref()? {
            // The header made these tables: they are there.
            branch = branch.descend(key, Place::default()).ok()?;
        }
        Some(branch)
    }

    /// `key = value`, into the current table.
    fn assign(&mut self, parsed: &DeTable<'_>, how: Assigned) -> Result<(), Box<Problem>> {
        let Some(branch) = self.current_branch() else {
            return Ok(());
        };
        put(branch, parsed, how)
    }
}

/// A further table of `[[key]]`.
fn add_branch(branch: &mut Branch, key: &str, key_place: Place, place: Place) -> Result<(), Box<Problem>> {
    let made = Branch { headed: true, ..Branch::default() };
    match branch.find_mut(key) {
        None => {
            let held = Held::Branches(vec![(place, made)]);
            branch.add(Item { key: key.to_owned(), key_place, place, held });
            Ok(())
        }
        Some(Item { held: Held::Branches(branches), .. }) => {
            branches.push((place, made));
            Ok(())
        }
        Some(item) => Err(twice(key, key_place, item.key_place)),
    }
}

/// The one key and value of a statement; dotted keys open tables on the way.
fn put(branch: &mut Branch, parsed: &DeTable<'_>, how: Assigned) -> Result<(), Box<Problem>> {
    let Some((key, value)) = parsed.iter().next() else {
        return Ok(());
    };
    let name = key.get_ref().as_ref();
    // The empty key of "= 3" is reported by the parser.
    if name.is_empty() && how.broken {
        return Ok(());
    }
    let key_place = Place::of(key.span(), how.offset);
    if let DeValue::Table(table) = value.get_ref()
        && is_dotted(key, value, table)
    {
        let below = branch.descend(name, key_place).map_err(|first| twice(name, key_place, first))?;
        if below.headed {
            let first = branch.find(name).map_or(key_place, |item| item.key_place);
            return Err(twice(name, key_place, first));
        }
        return put(below, table, how);
    }
    if let Some(first) = branch.find(name) {
        return Err(twice(name, key_place, first.key_place));
    }
    let place = Place::of(value.span(), how.offset);
    let content = if how.broken { Content::Broken } else { content(value, how.offset) };
    branch.add(Item { key: name.to_owned(), key_place, place, held: Held::Value(content) });
    Ok(())
}

/// Whether a table stands for the dots of a key: then it has the key's own
/// place, and a table in braces has one behind it.
fn is_dotted(key: &Spanned<impl Sized>, value: &Spanned<DeValue<'_>>, table: &DeTable<'_>) -> bool {
    !table.is_empty() && value.span() == key.span()
}

fn content(value: &Spanned<DeValue<'_>>, offset: usize) -> Content {
    match value.get_ref() {
        DeValue::String(text) => Content::Text(text.to_string()),
        DeValue::Integer(number) if number.radix() == 10 => Content::Whole(number.as_str().to_owned()),
        // Hexadecimal and the like: read as a whole number, written out in decimals.
        DeValue::Integer(number) => match i128::from_str_radix(number.as_str(), number.radix()) {
            Ok(value) => Content::Whole(value.to_string()),
            Err(_) => Content::Whole(i128::MAX.to_string()),
        },
        DeValue::Float(number) => Content::Decimal(number.as_str().to_owned()),
        DeValue::Boolean(flag) => Content::Flag(*flag),
        DeValue::Datetime(moment) => match (moment.date, moment.time, moment.offset) {
            (Some(date), None, None) => Date::new(date.year, date.month, date.day).map_or(Content::Time, Content::Date),
            _ => Content::Time,
        },
        DeValue::Array(items) => Content::List(items.iter().map(|item| node(item, offset)).collect()),
        DeValue::Table(table) => Content::Table(inline(table, offset)),
    }
}

fn node(value: &Spanned<DeValue<'_>>, offset: usize) -> Node {
    Node::new(Place::of(value.span(), offset), content(value, offset))
}

fn inline(table: &DeTable<'_>, offset: usize) -> Table {
    let mut entries: Vec<_> = table
        .iter()
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            key_place: Place::of(key.span(), offset),
            value: Some(node(value, offset)),
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_place.start);
    Table { entries }
}
