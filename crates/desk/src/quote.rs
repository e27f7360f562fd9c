//! A quote for an order: rope, twine, labour by measured minutes, hardware
//! and whatever else a list adds; waste, margin and tax.

use crate::input::open;
use crate::job::{Job, OrderAsked, read, same};
use crate::learned::{Measure, measures_of_file};
use crate::own::OwnSource;
use crate::problem::{Fault, Mistake, Problem};
use crate::text::Text;
use pricing::{Decimal, Item, ItemKind, Margin as Earned, Money, QuoteRequest as Asked, Rounding};
use proving::{Default as Known, Learns, Results, blend};
use schemars::JsonSchema;
use serde::Serialize;
use splice::{EndKind, Layout};
use std::collections::BTreeMap;
use units::System;

/// What is asked. Shares and prices are text, read here.
#[derive(Debug, Clone, Default)]
pub struct QuoteRequest {
    /// The order.
    pub order: Text,
    /// The rope list, with a price for a metre of each rope.
    pub ropes: Option<Text>,
    /// Hardware and other items (CSV).
    pub items: Option<Text>,
    /// Measured figures (CSV), for the minutes.
    pub measures: Option<Text>,
    /// Prices and minutes of a store; what is given otherwise outranks them.
    #[cfg(feature = "records")]
    pub kept: Option<crate::kept::KeptPrices>,
    /// Price of an hour: `48 EUR`.
    pub labour: Option<String>,
    /// Price of a metre of twine: `0.40 EUR`.
    pub twine: Option<String>,
    /// Rope spoiled, as a share of the rope: `4 %`.
    pub waste: Option<String>,
    /// Margin: `20 %` on cost, or `20 % of price`.
    pub margin: Option<String>,
    /// Tax: `19 %`.
    pub tax: Option<String>,
    /// `half-up` or `half-even`.
    pub rounding: Option<String>,
    /// Units to print; the order's own where not given.
    pub units: Option<System>,
}

/// A quote.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct QuoteAnswer {
    /// The order's number.
    pub order: String,
    /// The boat.
    pub boat: String,
    /// The day of the order.
    pub date: String,
    /// The currency.
    pub currency: String,
    /// Line by line.
    pub lines: Vec<QuoteLineAnswer>,
    /// Rope spoiled.
    pub waste: String,
    /// Lines and waste.
    pub cost: String,
    /// The margin.
    pub margin: String,
    /// How the margin is told.
    pub margin_rule: String,
    /// Cost and margin.
    pub net: String,
    /// The tax.
    pub tax: String,
    /// What is to be paid; null while something is refused.
    pub total: Option<String>,
    /// The rule of rounding.
    pub rounding: &'static str,
    /// Where the minutes are from, kind of end by kind of end.
    pub minutes: Vec<String>,
    /// What has no price or cannot be, each with its place.
    pub refused: Vec<RefusedAnswer>,
}

/// One printed line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct QuoteLineAnswer {
    /// `rope`, `hardware`, `twine`, `labour` or `other`.
    pub kind: &'static str,
    /// What it is.
    pub name: String,
    /// How much, an exact decimal.
    pub quantity: String,
    /// What that is counted in.
    pub unit: &'static str,
    /// Price, and what of.
    pub price: String,
    /// What the price is for.
    pub per: &'static str,
    /// Quantity times price, rounded.
    pub amount: String,
}

/// Something that is refused.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RefusedAnswer {
    /// Which item; empty for a share of the whole.
    pub item: String,
    /// Which field.
    pub field: String,
    /// Why.
    pub message: String,
    /// What to do.
    pub hint: String,
}

/// A quote for an order.
///
/// # Errors
/// When a file or a part of the request cannot be read, or an amount is too
/// large to be exact.
pub fn quote(request: &QuoteRequest) -> Result<QuoteAnswer, Problem> {
    let own = OwnSource::default();
    let job =
        read(&OrderAsked { order: &request.order, ropes: request.ropes.as_ref(), own: &own, units: request.units })?;
    let (mut measures, mut refused) = match &request.measures {
        Some(text) => {
            let (measures, mistakes) = measures_of_file(text)?;
            (measures, mistakes.iter().map(of_mistake).collect())
        }
        None => (Vec::new(), Vec::new()),
    };
    let mut listed = Listed::default();
    #[cfg(feature = "records")]
    if let Some(kept) = &request.kept {
        measures.extend_from_slice(kept.measures());
        listed = kept.listed(&mut refused);
    }
    rope_prices(job.rope_list.as_ref(), &mut listed, &mut refused)?;
    let asked = |field: &str, text: &Option<String>, listed: Option<Money>, refused: &mut Vec<RefusedAnswer>| {
        let Some(text) = text else { return Rate::of(listed) };
        match told_money(field, text) {
            Ok(money) => Rate::Price(money),
            Err(why) => {
                refused.push(why);
                Rate::Refused
            }
        }
    };
    let labour = asked("labour", &request.labour, listed.labour, &mut refused);
    let twine = asked("twine", &request.twine, listed.twine, &mut refused);
    measures.retain(|measure| measure.what == Learns::Minutes);
    let mut work = Work { items: Vec::new(), refused, minutes: Vec::new() };
    work.add_rope(&job, &listed.ropes);
    work.add_twine(&job, twine);
    work.add_labour(&job, labour, &measures)?;
    if let Some(text) = &request.items {
        work.add_items(text)?;
    }
    summed(request, &job, work)
}

/// Prices by name, and those of an hour and of a metre of twine.
#[derive(Debug, Clone, Default)]
pub(crate) struct Listed {
    pub ropes: BTreeMap<String, Money>,
    pub labour: Option<Money>,
    pub twine: Option<Money>,
}

/// A price for the whole quote: given, not given, or of no use, which was told.
#[derive(Debug, Clone, Copy)]
enum Rate {
    Price(Money),
    None,
    Refused,
}

impl Rate {
    fn of(price: Option<Money>) -> Rate {
        price.map_or(Rate::None, Rate::Price)
    }
}

fn summed(request: &QuoteRequest, job: &Job, mut work: Work) -> Result<QuoteAnswer, Problem> {
    let currency = work.items.first().map(|item| item.price.currency());
    let currency = currency.ok_or_else(|| {
        let told = work.refused.iter().map(|refused| format!("{}: {}", refused.field, refused.message));
        let told = told
            .fold(Problem::new(Fault::Request, "no-price", "nothing has a price that can be used"), |problem, line| {
                problem.hint(line)
            });
        told.hint("put price_per_metre in the rope list, or give --labour")
    })?;
    let (margin, margin_rule) = margin(request.margin.as_deref())?;
    let rounding = rounding(request.rounding.as_deref())?;
    let found = pricing::quote(&Asked {
        currency,
        items: work.items.clone(),
        waste: share("waste", request.waste.as_deref())?,
        margin,
        tax: share("tax", request.tax.as_deref())?,
        rounding,
    })
    .map_err(|why| Problem::refused("too-large", why.to_string()))?;
    for fault in &found.refused {
        work.refused.push(RefusedAnswer {
            item: fault.item.and_then(|index| work.items.get(index)).map(|item| item.name.clone()).unwrap_or_default(),
            field: fault.field.to_owned(),
            message: fault.why.to_string(),
            hint: fault.why.hint().to_owned(),
        });
    }
    // What has no price at all is not in the sum, so there is no total either.
    let total = found.total.filter(|_| work.refused.is_empty());
    Ok(QuoteAnswer {
        order: job.number().to_owned(),
        boat: job.boat().to_owned(),
        date: job.order.order.value.date.value.to_string(),
        currency: currency.code().to_owned(),
        lines: found.lines.iter().map(line_answer).collect(),
        waste: found.waste.to_string(),
        cost: found.cost.to_string(),
        margin: found.margin.to_string(),
        margin_rule,
        net: found.net.to_string(),
        tax: found.tax.to_string(),
        total: total.map(|total| total.to_string()),
        rounding: rounding.words(),
        minutes: work.minutes,
        refused: work.refused,
    })
}

struct Work {
    items: Vec<Item>,
    refused: Vec<RefusedAnswer>,
    minutes: Vec<String>,
}

impl Work {
    fn without_price(&mut self, item: &str, hint: &str) {
        self.refused.push(RefusedAnswer {
            item: item.to_owned(),
            field: "price".to_owned(),
            message: format!("{item} has no price"),
            hint: hint.to_owned(),
        });
    }

    fn add_rope(&mut self, job: &Job, prices: &BTreeMap<String, Money>) {
        let mut metres: BTreeMap<String, (String, i64)> = BTreeMap::new();
        for line in &job.lines {
            let rope = &line.made.rope.name;
            let count = i64::from(line.record.count.value);
            metres.entry(same(rope)).or_insert_with(|| (rope.clone(), 0)).1 += count * line.made.cut.count();
        }
        for (key, (name, millimetres)) in metres {
            match prices.get(&key) {
                Some(price) => self.items.push(Item {
                    kind: ItemKind::Rope,
                    name,
                    quantity: Decimal::new(millimetres, 3),
                    price: *price,
                }),
                None => self.without_price(&name, "put its price_per_metre in the rope list"),
            }
        }
    }

    fn add_twine(&mut self, job: &Job, price: Rate) {
        let millimetres: i64 = ends(job)
            .flat_map(|(count, end)| {
                end.stitching.iter().map(move |stitching| stitching.length.count() * i64::from(count))
            })
            .sum();
        match price {
            Rate::Price(price) if millimetres > 0 => self.items.push(Item {
                kind: ItemKind::Twine,
                name: "twine, for stitching and whipping".to_owned(),
                quantity: Decimal::new(millimetres, 3),
                price,
            }),
            _ => {}
        }
    }

    fn add_labour(&mut self, job: &Job, price: Rate, measures: &[Measure]) -> Result<(), Problem> {
        let mut without = Vec::new();
        let mut kinds: BTreeMap<EndKind, (u32, f64, Known)> = BTreeMap::new();
        for (count, end) in ends(job) {
            let time = end.time.get().map_or(0.0, |time| time.to_minutes());
            let known = Known { value: time, citation: end.time.citation };
            let entry = kinds.entry(end.kind).or_insert((0, 0.0, known));
            entry.0 += count;
            entry.1 += time * f64::from(count);
        }
        for (kind, (count, planned, known)) in kinds {
            let mean = planned / f64::from(count);
            let own = measures.iter().filter(|measure| measure.what == Learns::Minutes && measure.end == kind);
            let own = Results { breaks: own.map(|measure| measure.value).collect(), held: Vec::new() };
            let found = blend(Learns::Minutes, Known { value: mean, ..known }, &own)
                .map_err(|why| Problem::refused("no-figure", format!("minutes, {}: {why}", kind.name())))?;
            // Tenths of a minute, said as they are charged.
            let tenths = (found.used * f64::from(count) * 10.0).round() as i64;
            self.minutes.push(format!("{}: {:.1} min each; {}", kind.name(), found.used, found.rule.show(job.system)));
            match price {
                Rate::Price(price) if tenths > 0 && price.amount() > Decimal::ZERO => self.items.push(Item {
                    kind: ItemKind::Labour,
                    name: format!("{count} x {}", kind.name()),
                    quantity: Decimal::new(tenths, 1),
                    price,
                }),
                _ if tenths > 0 => without.push(format!("{count} x {}", kind.name())),
                _ => {}
            }
        }
        self.without_rate(price, &without);
        Ok(())
    }

    /// Labour without a price that can be used is told once, with what it is
    /// for; a text that is no price was told already.
    fn without_rate(&mut self, price: Rate, without: &[String]) {
        let message = match price {
            _ if without.is_empty() => return,
            Rate::Refused => return,
            Rate::None => format!("no price of an hour, for {}", without.join(", ")),
            Rate::Price(given) => {
                format!("a price of {given}: it must be above zero, for {}", without.join(", "))
            }
        };
        self.refused.push(RefusedAnswer {
            item: "labour".to_owned(),
            field: "labour".to_owned(),
            message,
            hint: "give the price of an hour: --labour \"48 EUR\"".to_owned(),
        });
    }

    fn add_items(&mut self, text: &Text) -> Result<(), Problem> {
        let input = open(text, files::LARGEST_TABLE)?;
        let (rows, mistakes) = input.partly(files::read_items(&input.bytes))?;
        self.refused.extend(mistakes.iter().map(of_mistake));
        for row in rows {
            let row = &row.value;
            let kind = ItemKind::from_word(row.kind.value.word()).unwrap_or(ItemKind::Other);
            let price = format!("{} {}", row.price.value.amount, row.price.value.currency);
            let named = |why: String| format!("{}: {why}", row.item.value);
            match (Money::read(&price), row.quantity.value.to_string().parse::<Decimal>()) {
                (Ok(price), Ok(quantity)) => {
                    self.items.push(Item { kind, name: row.item.value.clone(), quantity, price });
                }
                (Err(why), _) => self.refused.push(RefusedAnswer {
                    item: row.item.value.clone(),
                    field: "price".to_owned(),
                    message: named(why.to_string()),
                    hint: String::new(),
                }),
                (_, Err(why)) => self.refused.push(RefusedAnswer {
                    item: row.item.value.clone(),
                    field: "quantity".to_owned(),
                    message: named(why.to_string()),
                    hint: String::new(),
                }),
            }
        }
        Ok(())
    }
}

fn of_mistake(mistake: &Mistake) -> RefusedAnswer {
    let place = mistake.place.as_ref().map_or_else(String::new, |place| format!("{}:{}", place.file, place.line));
    RefusedAnswer {
        item: place,
        field: mistake.code.to_owned(),
        message: mistake.message.clone(),
        hint: mistake.hint.clone(),
    }
}

/// Every end of the order, with how many of it are made.
fn ends(job: &Job) -> impl Iterator<Item = (u32, &Layout)> {
    job.lines.iter().flat_map(|line| line.made.ends().into_iter().map(move |(_, end)| (line.record.count.value, end)))
}

/// Prices of the rope list; one that is none is told with its place, and the
/// rest is used.
fn rope_prices(list: Option<&Text>, into: &mut Listed, refused: &mut Vec<RefusedAnswer>) -> Result<(), Problem> {
    let Some(list) = list else { return Ok(()) };
    let input = open(list, files::LARGEST_TABLE)?;
    let records = input.complete(files::read_ropes(&input.bytes))?;
    for record in &records {
        let Some(price) = &record.value.price_per_metre else { continue };
        let text = format!("{} {}", price.value.amount, price.value.currency);
        match Money::read(&text) {
            Ok(money) => {
                into.ropes.insert(same(&record.value.name.value), money);
            }
            Err(why) => {
                let told = files::Problem::new("not-a-price", format!("{}: {why}", record.value.name.value));
                refused.extend(input.mistakes(&[told.at(price.place)]).iter().map(of_mistake));
            }
        }
    }
    Ok(())
}

fn line_answer(line: &pricing::QuoteLine) -> QuoteLineAnswer {
    let (unit, per) = line.kind.units();
    QuoteLineAnswer {
        kind: line.kind.word(),
        name: line.name.clone(),
        quantity: line.quantity.normalize().to_string(),
        unit,
        price: line.price.to_string(),
        per,
        amount: line.amount.to_string(),
    }
}

pub(crate) fn money(field: &str, text: &str) -> Result<Money, Problem> {
    Money::read(text).map_err(|why| Problem::new(Fault::Request, "not-a-price", format!("{field}: {why}")))
}

/// A price given for the whole quote, or why it is none.
fn told_money(field: &str, text: &str) -> Result<Money, RefusedAnswer> {
    Money::read(text).map_err(|why| RefusedAnswer {
        item: field.to_owned(),
        field: field.to_owned(),
        message: why.to_string(),
        hint: String::new(),
    })
}

/// `4 %` as an exact share; nothing where nothing is asked.
pub(crate) fn share(field: &str, text: Option<&str>) -> Result<Decimal, Problem> {
    let Some(text) = text else { return Ok(Decimal::ZERO) };
    let number = text.trim().strip_suffix('%').map(str::trim).and_then(|number| number.parse::<Decimal>().ok());
    number.and_then(|percent| percent.checked_div(Decimal::ONE_HUNDRED)).ok_or_else(|| {
        Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {text:?} is no share"))
            .hint("in per cent: 19 %")
    })
}

/// `20 %`, `20 % on cost` or `20 % of price`.
pub(crate) fn margin(text: Option<&str>) -> Result<(Earned, String), Problem> {
    let text = text.unwrap_or("0 %").trim();
    if let Some(part) = text.strip_suffix("of price") {
        return Ok((Earned::OfPrice(share("margin", Some(part))?), format!("{} of the price before tax", part.trim())));
    }
    let part = text.strip_suffix("on cost").unwrap_or(text);
    Ok((Earned::OnCost(share("margin", Some(part))?), format!("{} on cost", part.trim())))
}

/// How amounts are rounded; halves up where nothing is asked.
pub(crate) fn rounding(word: Option<&str>) -> Result<Rounding, Problem> {
    word.map_or(Ok(Rounding::HalfUp), |word| {
        Rounding::from_word(word).ok_or_else(|| {
            Problem::new(Fault::Request, "unknown-word", format!("rounding: {word:?} is not known"))
                .hint("half-up or half-even")
        })
    })
}
