//! The European inland rules for traditional passenger sailing vessels, held
//! against the lines of an order that says they hold (`use.rules`).
//!
//! The rules know wire, and polypropylene by its diameter and sheaves; rope of
//! another fibre must have the strength of the wire in the same row. Polyethylene
//! is not allowed, and HMPE is polyethylene. Not covered: standing rigging, and
//! running rigging that stays the mast.

use cordage::Fibre;
use files::{LeadOn, LineRecord, OrderFile};
use makeup::MadeUp;
use rig::{Hauling, InlandLine, InlandMaterial, LineKind, Minimum, inland_minimum};
use sources::{EU_2006_87, Finding, Grade};
use units::{Area, Sentence};

/// Whether the rules hold for the order.
fn hold(order: &OrderFile) -> bool {
    order.usage.value.rules.as_ref().is_some_and(|rules| rules.value == files::RiggingRules::InlandTraditional)
}

/// What the rules say of a line; nothing where they do not hold or know none
/// of its kind.
pub(crate) fn inland(order: &OrderFile, record: &LineRecord, kind: LineKind, made: &MadeUp) -> Vec<Finding> {
    let Some((line, sail)) = line_of(kind).filter(|_| hold(order)) else { return Vec::new() };
    let Some(area) = area(order, sail) else {
        let text = Sentence::new("the inland rules go by the area of the {}, which the order does not give").with(sail);
        let finding = Finding::new(Grade::Caution, "inland-not-assessed", text, EU_2006_87.at("annex II ch. 15a"));
        return vec![finding.remedy(Sentence::new("give sails.{}.area").with(sail))];
    };
    let fibre = made.rope.fibre;
    if fibre == Fibre::Hmpe {
        let text = Sentence::new("the inland rules allow no polyethylene rope, and HMPE is polyethylene");
        let finding = Finding::new(Grade::Caution, "inland-polyethylene", text, EU_2006_87.at("annex II ch. 15a"));
        return vec![finding.remedy(Sentence::new("polypropylene, polyester or wire"))];
    }
    let fibre_row = inland_minimum(line, InlandMaterial::Polypropylene, area);
    let wire_row = inland_minimum(line, InlandMaterial::Wire, area);
    match (fibre, fibre_row, wire_row) {
        (Fibre::Polypropylene, Some(row), _) => polypropylene(&row, record, made, area),
        (Fibre::Polypropylene, None, _) | (_, _, None) => vec![no_row(area, fibre)],
        (_, _, Some(row)) => vec![by_strength(&row, made, area)],
    }
}

/// Which line of the rules it is, and the sail that it serves.
const fn line_of(kind: LineKind) -> Option<(InlandLine, &'static str)> {
    Some(match kind {
        LineKind::JibHalyard => (InlandLine::StaysailHalyard, "jib"),
        LineKind::StaysailHalyard => (InlandLine::StaysailHalyard, "staysail"),
        LineKind::MainHalyard | LineKind::PeakHalyard | LineKind::ThroatHalyard => (InlandLine::GaffHalyard, "main"),
        LineKind::JibSheet => (InlandLine::StaysailSheet, "jib"),
        LineKind::StaysailSheet => (InlandLine::StaysailSheet, "staysail"),
        LineKind::Mainsheet => (InlandLine::GaffSheet, "main"),
        _ => return None,
    })
}

fn area(order: &OrderFile, sail: &str) -> Option<Area> {
    let sails = &order.sails.as_ref()?.value;
    let area = match sail {
        "main" => sails.main.as_ref().and_then(|main| main.value.area.as_ref()),
        "staysail" => sails.staysail.as_ref().and_then(|staysail| staysail.value.area.as_ref()),
        _ => sails.jib.as_ref().and_then(|jib| jib.value.area.as_ref()),
    };
    area.map(|placed| placed.value)
}

/// Sheaves that it runs over: those of its purchase, then those of its lead.
fn sheaves(record: &LineRecord) -> u32 {
    let lead = record.lead.iter().filter(|turn| turn.value.on.value == LeadOn::Sheave).count();
    let lead = u32::try_from(lead).unwrap_or(u32::MAX);
    // The last sheave of a purchase is the first of its lead.
    let purchase = record.purchase.value - 1;
    let purchase = if lead == 0 && record.purchase.value > 1 { purchase + 1 } else { purchase };
    lead.saturating_add(purchase)
}

fn polypropylene(row: &Minimum, record: &LineRecord, made: &MadeUp, area: Area) -> Vec<Finding> {
    let diameter = made.rope.diameter;
    let has = sheaves(record);
    let mut findings = Vec::new();
    findings.extend(row.finding(made.rope.strength.force, diameter));
    if has < row.sheaves {
        let text = Sentence::new("it runs over {} sheaves; the inland rules ask {} of polypropylene for a sail of {}")
            .with(has)
            .with(row.sheaves)
            .with(area);
        let remedy = Sentence::new("a purchase with {} sheaves or more, given as purchase or lead").with(row.sheaves);
        findings.push(Finding::new(Grade::Caution, "inland-sheaves", text, row.citation).remedy(remedy));
    }
    let winch = record.lead.iter().any(|turn| turn.value.on.value == LeadOn::Winch);
    if row.hauling == Hauling::TackleOrWinch && record.purchase.value < 2 && !winch {
        let text = Sentence::new("the inland rules want a tackle or a winch on the sheet of a sail of {}").with(area);
        findings.push(
            Finding::new(Grade::Caution, "inland-hauling", text, row.citation)
                .remedy(Sentence::new("give purchase, or a winch on its lead")),
        );
    }
    if findings.is_empty() {
        let text = Sentence::new("it meets the inland rules for a sail of {}: {} of polypropylene has the {} asked, and {} sheaves the {} asked")
            .with(area)
            .with(diameter)
            .with(row.diameter)
            .with(has)
            .with(row.sheaves);
        findings.push(Finding::new(Grade::Note, "inland-met", text, row.citation));
    }
    findings
}

/// Rope of another fibre by the strength of the wire in its row: the weakest
/// place of the line, ends and all.
fn by_strength(row: &Minimum, made: &MadeUp, area: Area) -> Finding {
    let weakest = made.weak_points.iter().find_map(|point| point.strength).unwrap_or(made.rope.strength.force);
    if let Some(finding) = row.finding(weakest, made.rope.diameter) {
        return finding;
    }
    let text = Sentence::new("it meets the inland rules for a sail of {}: {} at its weakest has the {} asked of wire")
        .with(area)
        .with(weakest)
        .with(row.strength.unwrap_or(units::Force::ZERO));
    Finding::new(Grade::Note, "inland-met", text, row.citation)
}

fn no_row(area: Area, fibre: Fibre) -> Finding {
    let text = Sentence::new("the inland rules have no row for this line in {} with a sail of {}: not assessed")
        .with(fibre.name())
        .with(area);
    Finding::new(Grade::Note, "inland-not-assessed", text, EU_2006_87.at("annex II ch. 15a"))
        .remedy(Sentence::new("ask the authority, or polypropylene by its diameter"))
}
