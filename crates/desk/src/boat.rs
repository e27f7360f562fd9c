//! An order's heading and its boat, as they are given.

use crate::input::open;
use crate::problem::Problem;
use crate::text::Text;
use crate::wire::Amount;
use files::Placed;
use schemars::JsonSchema;
use serde::Serialize;
use units::{System, Value};

/// What an order says of itself and its boat.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct BoatAnswer {
    /// The order's number.
    pub order: String,
    /// Who ordered.
    pub customer: Option<String>,
    /// Day of the order, year-month-day.
    pub date: String,
    /// Day by which it is wanted.
    pub due: Option<String>,
    /// Remarks.
    pub notes: Option<String>,
    /// The boat's name.
    pub boat: String,
    /// Her hull.
    pub hull: &'static str,
    /// Her rig.
    pub rig: &'static str,
    /// What she is used for.
    pub used_for: &'static str,
    /// Dimensions given, each with its name.
    pub given: Vec<(&'static str, Amount)>,
    /// Dimensions that are estimated where they are needed.
    pub estimated: Vec<&'static str>,
    /// What the loft sets for this order.
    pub loft: Vec<(&'static str, String)>,
    /// How many lines she has.
    pub lines: usize,
}

/// Reads an order's heading and boat; its lines are not worked out.
///
/// # Errors
/// When the order cannot be read or has mistakes.
pub fn boat(order: &Text, units: Option<System>) -> Result<BoatAnswer, Problem> {
    let input = open(order, files::LARGEST_ORDER)?;
    let order = input.complete(files::read_order(&input.bytes))?;
    let head = &order.order.value;
    let system = units.unwrap_or(match head.units.as_ref().map(|units| units.value) {
        Some(files::PrintUnits::Us) => System::Us,
        _ => System::Metric,
    });
    let record = &order.boat.value;
    let mut given = vec![("length over all", Amount::of(record.loa.value, system))];
    let mut estimated = Vec::new();
    let mut take = |name: &'static str, value: Option<Value>| match value {
        Some(value) => given.push((name, Amount::of(value, system))),
        None => estimated.push(name),
    };
    let length = |placed: &Option<Placed<units::Length>>| placed.as_ref().map(|placed| Value::from(placed.value));
    take("waterline", length(&record.lwl));
    take("beam", length(&record.beam));
    take("draught", length(&record.draught));
    take("freeboard", length(&record.freeboard));
    take("displacement", record.displacement.as_ref().map(|placed| placed.value.into()));
    take("righting moment at 30 degrees", record.righting_moment.as_ref().map(|placed| placed.value.into()));
    take("I, height of the foretriangle", length(&record.i));
    take("J, base of the foretriangle", length(&record.j));
    take("P, luff of the mainsail", length(&record.p));
    take("E, foot of the mainsail", length(&record.e));
    take("ISP, spinnaker halyard above deck", length(&record.isp));
    take("BAS, boom above deck", length(&record.bas));
    Ok(BoatAnswer {
        order: head.number.value.clone(),
        customer: head.customer.as_ref().map(|customer| customer.value.clone()),
        date: head.date.value.to_string(),
        due: head.due.as_ref().map(|due| due.value.to_string()),
        notes: head.notes.as_ref().map(|notes| notes.value.0.clone()),
        boat: record.name.value.clone(),
        hull: record.hull.value.word(),
        rig: record.rig.value.word(),
        used_for: order.usage.value.kind.value.word(),
        given,
        estimated,
        loft: order.loft.as_ref().map(|loft| loft_rules(&loft.value, system)).unwrap_or_default(),
        lines: order.line.len(),
    })
}

fn loft_rules(loft: &files::LoftRecord, system: System) -> Vec<(&'static str, String)> {
    let amount = |value: Value| Amount::of(value, system).text;
    let mut rules = Vec::new();
    let mut take = |name: &'static str, value: Option<String>| rules.extend(value.map(|value| (name, value)));
    take("bury", loft.bury_diameters.as_ref().map(|given| format!("{} diameters", given.value)));
    take("design factor", loft.design_factor.as_ref().map(|given| given.value.to_string()));
    take("rope lost at each cut", loft.loss_per_cut.as_ref().map(|given| amount(given.value.into())));
    take("smallest remnant kept", loft.smallest_remnant.as_ref().map(|given| amount(given.value.into())));
    take("tolerance of a finished length", loft.cut_tolerance.as_ref().map(|given| amount(given.value.into())));
    take("reference tension", loft.reference_tension.as_ref().map(|given| amount(given.value.into())));
    rules
}
