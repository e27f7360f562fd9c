//! Statistics of tests, inspection limits and money, by the rooms `proving`
//! and `pricing`.

use super::{Answers, Entry, finite, number, word};
use crate::Trouble;
use crate::expected::Answer;
use crate::given::Given;
use cordage::{Construction, Fibre};
use pricing::{Currency, Decimal, Item, ItemKind, Margin, Money, QuoteRequest, Rounding};
use proving::{
    Level, Limit, Reading, Results, Verdict, accept_spliced, control_chart, farthest, form, grubbs_critical, judge,
    normal_fit, normal_goodness, tolerance_factor, weibull_fit,
};

pub(super) const ENTRIES: &[Entry] = &[
    ("tolerance-factor", "proving", factor),
    ("tolerance-limit", "proving", limit),
    ("normal-fit", "proving", normal),
    ("weibull-fit", "proving", weibull),
    ("normal-goodness", "proving", goodness),
    ("outlier", "proving", outlier),
    ("control-chart", "proving", chart),
    ("accept-spliced", "proving", spliced),
    ("inspection", "proving", inspection),
    ("money-rounded", "pricing", rounded),
    ("quote", "pricing", quote),
];

fn level(given: &Given) -> Result<Level, Trouble> {
    Ok(Level { coverage: given.ratio("coverage")?, confidence: given.ratio("confidence")? })
}

fn factor(given: &Given) -> Result<Answers, Trouble> {
    let n = given.tally("n")? as usize;
    Ok(vec![("factor", number(tolerance_factor(n, level(given)?).map_err(Trouble::refused)?))])
}

fn limit(given: &Given) -> Result<Answers, Trouble> {
    let n = given.tally("n")? as usize;
    let k = tolerance_factor(n, level(given)?).map_err(Trouble::refused)?;
    let (mean, deviation) = (given.ratio("mean")?, given.ratio("deviation")?);
    Ok(vec![("lower", number(mean - k * deviation)), ("upper", number(mean + k * deviation))])
}

/// Breaks, and results that held at least so much; `scale` multiplies all.
fn results(given: &Given) -> Result<Results, Trouble> {
    let scale = if given.has("scale") { given.ratio("scale")? } else { 1.0 };
    let scaled = |values: Vec<f64>| values.into_iter().map(|value| value * scale).collect();
    Ok(Results { breaks: scaled(given.ratios("values")?), held: scaled(given.ratios("held")?) })
}

fn normal(given: &Given) -> Result<Answers, Trouble> {
    let fit = normal_fit(&results(given)?).map_err(Trouble::refused)?;
    let count = given.ratios("values")?.len() as f64;
    // Where results are censored the library tells the likelihood's own
    // deviation, without the widening for few breaks.
    let likeliest = fit.deviation * ((count - 1.0) / count).sqrt();
    Ok(vec![("mean", number(fit.mean)), ("deviation", number(fit.deviation)), ("likeliest", number(likeliest))])
}

fn weibull(given: &Given) -> Result<Answers, Trouble> {
    let fit = weibull_fit(&results(given)?).map_err(Trouble::refused)?;
    Ok(vec![
        ("scale", number(fit.scale)),
        ("shape", number(fit.shape)),
        ("mean", number(finite(fit.mean())?)),
        ("deviation", number(finite(fit.deviation())?)),
    ])
}

fn goodness(given: &Given) -> Result<Answers, Trouble> {
    // A goodness of fit does not change with the scale: a power does.
    let power = if given.has("power") { given.ratio("power")? } else { 1.0 };
    let values: Vec<f64> = given.ratios("values")?.into_iter().map(|value: f64| value.powf(power)).collect();
    let fit = normal_goodness(&values).map_err(Trouble::refused)?;
    Ok(vec![("statistic", number(fit.statistic)), ("chance", number(fit.chance))])
}

fn outlier(given: &Given) -> Result<Answers, Trouble> {
    let values = given.ratios("values")?;
    let found = farthest(&values).map_err(Trouble::refused)?;
    // The page asks on one side: the same critical value at twice the level.
    let level = given.ratio("significance")?;
    let one_sided = grubbs_critical(values.len(), 2.0 * level).map_err(Trouble::refused)?;
    Ok(vec![
        ("statistic", number(found.statistic)),
        ("critical", number(one_sided)),
        ("at", Answer::Count(found.index as i64 + 1)),
    ])
}

fn chart(given: &Given) -> Result<Answers, Trouble> {
    let found = control_chart(&results(given)?.breaks).map_err(Trouble::refused)?;
    Ok(vec![
        ("centre", number(found.centre)),
        ("moving_range", number(found.moving_range)),
        ("lower", number(found.lower)),
        ("upper", number(found.upper)),
        ("signals", Answer::Count(found.signals.len() as i64)),
    ])
}

fn spliced(given: &Given) -> Result<Answers, Trouble> {
    let verdict = accept_spliced(given.force("specified")?, given.force("load")?);
    Ok(vec![("verdict", word(if verdict == Verdict::Accepted { "accepted" } else { "refused" }))])
}

/// A rope without fault but for one reading.
fn inspection(given: &Given) -> Result<Answers, Trouble> {
    let construction = given.text("construction")?;
    let construction = Construction::from_word(construction)
        .ok_or_else(|| Trouble::malformed(format!("{construction:?} is no construction")))?;
    let fibre = Fibre::from_word(given.text("fibre")?).ok_or_else(|| Trouble::malformed("no such fibre"))?;
    let (code, share) = (given.text("criterion")?, given.ratio("share")?);
    let form = form(construction, fibre);
    let readings: Vec<(String, Reading)> = form
        .iter()
        .map(|criterion| {
            let reading = match criterion.limit {
                _ if criterion.code == code => Reading::Share(share),
                Limit::Absent => Reading::Absent,
                Limit::UpTo(_) | Limit::Below(_) => Reading::Share(0.0),
            };
            (criterion.code.to_owned(), reading)
        })
        .collect();
    let found = judge(&form, &readings).map_err(Trouble::refused)?;
    Ok(vec![("condition", word(found.condition.word()))])
}

fn rule(given: &Given) -> Result<Rounding, Trouble> {
    let text = given.text("rule")?;
    Rounding::from_word(text).ok_or_else(|| Trouble::malformed(format!("{text:?} is no rule")))
}

fn decimal(given: &Given, name: &str) -> Result<Decimal, Trouble> {
    let text = given.text(name)?.trim_end_matches('%').trim().to_owned();
    text.parse().map_err(|_| Trouble::malformed(format!("{name}: {text:?} is no decimal")))
}

fn currency(given: &Given) -> Result<Currency, Trouble> {
    let code = given.text("currency")?;
    Currency::from_code(code).ok_or_else(|| Trouble::refused(format!("{code:?} is no currency")))
}

fn as_number(money: Money) -> Result<Answer, Trouble> {
    money.amount().to_string().parse::<f64>().map(number).map_err(Trouble::refused)
}

fn rounded(given: &Given) -> Result<Answers, Trouble> {
    let money = Money::of(decimal(given, "amount")?, currency(given)?).rounded(rule(given)?);
    Ok(vec![("amount", as_number(money)?)])
}

/// A quote of one item with margin on cost and tax.
fn quote(given: &Given) -> Result<Answers, Trouble> {
    let currency = currency(given)?;
    let found = pricing::quote(&QuoteRequest {
        currency,
        items: vec![Item {
            kind: ItemKind::Rope,
            name: "rope".to_owned(),
            quantity: decimal(given, "metres")?,
            price: Money::of(decimal(given, "price")?, currency),
        }],
        waste: decimal(given, "waste")? / Decimal::ONE_HUNDRED,
        margin: Margin::OnCost(decimal(given, "margin")? / Decimal::ONE_HUNDRED),
        tax: decimal(given, "tax")? / Decimal::ONE_HUNDRED,
        rounding: rule(given)?,
    })
    .map_err(Trouble::refused)?;
    let total = found.total.ok_or_else(|| {
        let why: Vec<String> = found.refused.iter().map(|fault| fault.why.to_string()).collect();
        Trouble::refused(why.join("; "))
    })?;
    Ok(vec![("net", as_number(found.net)?), ("tax", as_number(found.tax)?), ("total", as_number(total)?)])
}
