//! An order read and its lines made up: what every task on an order begins with.

use crate::convert;
use crate::cover_wish::settle;
use crate::input::open;
use crate::own::{OwnRead, OwnSource};
use crate::problem::Problem;
use crate::question::{QuestionError, question};
use crate::rule_table::loft_rules;
use crate::text::Text;
use cordage::{Basis, Construction, CreepRate, Doubt, Fibre, LoadOn, Rope, Strength, strength_to_weight};
use files::{LineRecord, OrderFile, Place, Placed};
use makeup::{Added, CoverWish, EndWish, Fit, LineRequest, MadeUp, Rule, StandingWish, make_up};
use rayon::prelude::*;
use rig::{LineLoad, Setup, Sweep, Travel};
use sources::{Finding, GIVEN, Step};
use splice::OwnFigures;
use units::{Length, System};

/// An order with everything that was read for it.
pub(crate) struct Job {
    pub(crate) order: OrderFile,
    pub(crate) rope_list: Option<Text>,
    pub(crate) lines: Vec<JobLine>,
    pub(crate) system: System,
    /// The boat in all winds and angles.
    pub(crate) sweep: Sweep,
    /// The rope list.
    pub(crate) ropes: Vec<Rope>,
    /// The loft's rules, where a line leaves its cover to them.
    pub(crate) rules: Vec<Rule>,
    /// The loft's own figures.
    pub(crate) own: OwnRead,
}

/// An order to be read, with what goes with it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OrderAsked<'a> {
    pub(crate) order: &'a Text,
    /// The rope list; the one beside the order where not given.
    pub(crate) ropes: Option<&'a Text>,
    /// The loft's own figures.
    pub(crate) own: &'a OwnSource,
    /// Units to print; the order's own where not given.
    pub(crate) units: Option<System>,
}

/// What a line may be made of, and what the loft knows of it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shelf<'a> {
    pub(crate) ropes: &'a [Rope],
    pub(crate) own: &'a OwnFigures,
    pub(crate) rules: &'a [Rule],
}

/// One line of the order, worked out.
pub(crate) struct JobLine {
    pub(crate) record: LineRecord,
    pub(crate) place: Place,
    pub(crate) setup: Setup,
    pub(crate) load: LineLoad,
    /// Its lead at both ends of travel, where the order gives one.
    pub(crate) travel: Option<Travel>,
    pub(crate) made: MadeUp,
    /// Marks carried over from an old line.
    pub(crate) marks: Vec<(String, Length)>,
    /// Findings of load, lead and rope together, the worst first.
    pub(crate) findings: Vec<Finding>,
    /// Working of load, length and rope, in order.
    pub(crate) steps: Vec<Step>,
}

/// An order and its rope list, read; no line is worked out yet.
pub(crate) struct Opened {
    pub(crate) input: crate::input::Input,
    pub(crate) order: OrderFile,
    pub(crate) rope_list: Option<Text>,
    pub(crate) ropes: Vec<Listed>,
    pub(crate) own: OwnRead,
    pub(crate) system: System,
    /// The boat in all winds and angles.
    pub(crate) sweep: Sweep,
}

/// Reads an order and the rope list given, or the one beside it.
pub(crate) fn open_order(asked: &OrderAsked<'_>) -> Result<Opened, Problem> {
    let OrderAsked { order: text, ropes, own, units: system } = *asked;
    let input = open(text, files::LARGEST_ORDER)?;
    let order = input.complete(files::read_order(&input.bytes))?;
    let rope_list = match ropes {
        Some(list) => Some(list.clone()),
        None => text.beside("ropes.csv"),
    };
    let ropes = rope_list.as_ref().map(read_listed).transpose()?.unwrap_or_default();
    let plain: Vec<Rope> = ropes.iter().map(|listed| listed.rope.clone()).collect();
    let own = own.read(&plain)?;
    let system = system.unwrap_or(match order.order.value.units.as_ref().map(|units| units.value) {
        Some(files::PrintUnits::Us) => System::Us,
        _ => System::Metric,
    });
    let sweep = match question(&order, text) {
        Ok(question) => Sweep::of(question),
        Err(QuestionError::Order(problem)) => return Err(input.problem(&[problem])),
        Err(QuestionError::Table(problem)) => return Err(problem),
    };
    Ok(Opened { input, order, rope_list, ropes, own, system, sweep })
}

/// Reads an order and its rope list, and makes up every line.
///
/// Mistakes of all lines are collected before any is reported.
pub(crate) fn read(asked: &OrderAsked<'_>) -> Result<Job, Problem> {
    let Opened { input, order, rope_list, ropes, own, system, sweep } = open_order(asked)?;
    let ropes: Vec<Rope> = ropes.into_iter().map(|listed| listed.rope).collect();
    let advised = order.line.iter().any(|line| wishes_advice(&line.value));
    let rules = if advised { loft_rules(asked.order.beside("rules.csv").as_ref())? } else { Vec::new() };
    // Lines know nothing of each other, and each is a millisecond's work.
    let shelf = Shelf { ropes: &ropes, own: &own.figures, rules: &rules };
    let made: Vec<_> = order.line.par_iter().map(|line| make_line(&order, &sweep, line, shelf)).collect();
    let mut lines = Vec::new();
    let mut problems = Vec::new();
    for line in made {
        match line {
            Ok(line) => lines.push(line),
            Err(problem) => problems.push(*problem),
        }
    }
    if problems.is_empty() {
        Ok(Job { order, rope_list, lines, system, sweep, ropes, rules, own })
    } else {
        Err(input.problem(&problems))
    }
}

impl Job {
    /// The order's number.
    pub(crate) fn number(&self) -> &str {
        &self.order.order.value.number.value
    }

    /// The boat's name.
    pub(crate) fn boat(&self) -> &str {
        &self.order.boat.value.name.value
    }
}

/// A rope of the list, with what only the list knows.
#[derive(Debug, Clone)]
pub(crate) struct Listed {
    pub(crate) rope: Rope,
    pub(crate) price: Option<files::Price>,
    /// Line of the file; none of a rope that is not in it.
    pub(crate) row: Option<usize>,
    /// Figures that are off what published ropes have.
    pub(crate) doubt: Option<Finding>,
}

/// Reads a rope list into ropes.
pub(crate) fn read_ropes(list: &Text) -> Result<Vec<Rope>, Problem> {
    Ok(read_listed(list)?.into_iter().map(|listed| listed.rope).collect())
}

/// Reads a rope list with its prices; figures that cannot be are mistakes.
pub(crate) fn read_listed(list: &Text) -> Result<Vec<Listed>, Problem> {
    let input = open(list, files::LARGEST_TABLE)?;
    let files::Read { record, mut problems } = files::read_ropes(&input.bytes);
    let source = files::Source::new(&input.name, &input.bytes);
    let mut ropes = Vec::new();
    for record in record.iter().flatten() {
        match rope(&record.value).map(|rope| (strength_to_weight(&rope), rope)) {
            Ok((Some(Doubt::Impossible(why)), _)) => problems.push(impossible(&record.value, &why)),
            Ok((doubt, rope)) => ropes.push(Listed {
                rope,
                price: record.value.price_per_metre.as_ref().map(|price| price.value.clone()),
                row: Some(source.position(record.place).line),
                doubt: doubt.map(|(Doubt::Unusual(why) | Doubt::Impossible(why))| why),
            }),
            Err(why) => problems.push(files::Problem::new("impossible-rope", why).at(record.place)),
        }
    }
    problems.sort_by_key(|problem| problem.place.map_or(0, |place| place.start));
    if problems.is_empty() { Ok(ropes) } else { Err(input.problem(&problems)) }
}

/// A row whose figures cannot be, said at the figure that is most likely wrong.
fn impossible(record: &files::RopeRecord, why: &Finding) -> files::Problem {
    let place = if why.code == "impossible-mass" { record.linear_density.place } else { record.strength.place };
    let hint = why.remedy.as_ref().map_or(String::new(), |remedy| remedy.show(System::Metric));
    files::Problem::new(why.code, format!("{}: {}", record.name.value, why.text.show(System::Metric)))
        .allowed(format!("figures within the band of {}", why.citation))
        .hint(hint)
        .at(place)
}

fn rope(record: &files::RopeRecord) -> Result<Rope, String> {
    let fibre = Fibre::from_word(record.fibre.value.word()).ok_or("unknown fibre")?;
    let construction = match Construction::from_word(record.construction.value.word()) {
        Some(Construction::DoubleBraid(_)) if fibre.is_high_modulus() => Construction::DoubleBraid(LoadOn::Core),
        Some(construction) => construction,
        None => return Err("unknown construction".to_owned()),
    };
    let basis = match record.strength_basis.value {
        files::StrengthBasis::Spliced => Basis::Spliced,
        files::StrengthBasis::Unspliced => Basis::Unspliced,
        files::StrengthBasis::Average => Basis::Average,
        files::StrengthBasis::Unknown => Basis::Unknown,
    };
    let rope = Rope {
        name: record.name.value.clone(),
        diameter: record.diameter.value,
        construction,
        fibre,
        cover_fibre: record.cover_fibre.as_ref().and_then(|placed| Fibre::from_word(placed.value.word())),
        core_diameter: record.core_diameter.as_ref().map(|placed| placed.value),
        linear_density: record.linear_density.value,
        core_linear_density: record.core_linear_density.as_ref().map(|placed| placed.value),
        density_citation: GIVEN.at("rope list"),
        strength: Strength { force: record.strength.value, basis, citation: GIVEN.at("rope list"), range: None },
        pitch: record.pitch.as_ref().map(|placed| placed.value),
        stretch_at_tenth: record.stretch_at_tenth.as_ref().map(|placed| placed.value.fraction),
        wet_linear_density: record.wet_linear_density.as_ref().map(|placed| placed.value),
        wet_core_linear_density: record.wet_core_linear_density.as_ref().map(|placed| placed.value),
        creep_rate: creep_rate(record),
        coated: record.coated.value,
    };
    rope.checked().map_err(|why| why.to_string())
}

fn creep_rate(record: &files::RopeRecord) -> Option<CreepRate> {
    Some(CreepRate {
        per_year: record.creep_per_year.as_ref()?.value.fraction,
        load: record.creep_load.as_ref()?.value,
        celsius: record.creep_celsius.as_ref()?.value,
    })
}

pub(crate) type Located = Box<files::Problem>;

pub(crate) fn at(place: Place, code: &'static str, message: impl Into<String>) -> Located {
    Box::new(files::Problem::new(code, message).at(place))
}

/// What is known of a line before its rope is looked at.
pub(crate) struct Prepared {
    pub(crate) kind: rig::LineKind,
    pub(crate) lead: Option<rig::Lead>,
    pub(crate) travel: Option<Travel>,
    pub(crate) setup: Setup,
    pub(crate) load: LineLoad,
    pub(crate) finished: Length,
    /// Working and findings of the length.
    pub(crate) steps: Vec<Step>,
    pub(crate) findings: Vec<Finding>,
    /// Marks carried over from an old line, and its rope where it is known.
    pub(crate) marks: Vec<(String, Length)>,
    pub(crate) old: Option<Rope>,
}

/// Load, lead and length of a line; `ropes` are looked up for an old one.
pub(crate) fn prepare(sweep: &Sweep, line: &Placed<LineRecord>, ropes: &[Rope]) -> Result<Prepared, Located> {
    let (record, place) = (&line.value, line.place);
    let kind =
        convert::line_kind(record.kind.value).map_err(|why| at(record.kind.place, "unknown-word", why.message))?;
    crate::finished::below_the_keel(sweep.dimensions(), record)?;
    let lead = convert::lead(record);
    let travel = lead.as_ref().map(rig::travel).transpose().map_err(|why| crate::finished::at_lead(record, &why))?;
    let setup = setup(record, kind, lead.as_ref());
    let load = sweep.line(&setup).map_err(|why| at(record.kind.place, "no-load", why.to_string()))?;
    let boat = &sweep.question().boat;
    let finished = crate::finished::finished(boat, record, kind, (travel.as_ref(), ropes))
        .map_err(|message| at(place, "no-length", message))?;
    let crate::finished::Finished { length, steps, findings, marks, old } = finished;
    Ok(Prepared { kind, lead, travel, setup, load, finished: length, steps, findings, marks, old })
}

/// What of a line bears on its load.
fn setup(record: &LineRecord, kind: rig::LineKind, lead: Option<&rig::Lead>) -> Setup {
    let first = record.lead.first().and_then(|turn| turn.value.bearing.as_ref());
    let efficiency = rig::tackle::sheave_efficiency(convert::bearing(first));
    let given = record.load.as_ref().map(|load| &load.value);
    Setup {
        mast: convert::mast(record.mast.value),
        reef: record.reef.as_ref().map(|reef| reef.value),
        parts: record.purchase.value,
        cascade: record.cascade.iter().map(|parts| parts.value).collect(),
        sheave_efficiency: efficiency.get().unwrap_or(1.0),
        along_boom: lead.map(|lead| lead.hauled.aft).filter(|aft| aft.to_m() > 0.2),
        given: given.map(|load| (load.steady.value, load.peak.as_ref().map(|peak| peak.value))),
        ..Setup::of(kind)
    }
}

/// What is asked of a line's rope and ends.
pub(crate) fn request<'a>(
    order: &OrderFile,
    record: &LineRecord,
    prepared: &'a Prepared,
) -> Result<LineRequest<'a>, Located> {
    Ok(LineRequest {
        kind: prepared.kind,
        duty: convert::duty(record.duty.value),
        used_for: convert::used_for(order.usage.value.kind.value),
        design_factor: loft(order, |loft| loft.design_factor.as_ref().map(|placed| placed.value)),
        steady: prepared.load.steady.max(prepared.load.hauling),
        peak: prepared.load.peak,
        finished: prepared.finished,
        lead: prepared.lead.as_ref(),
        travel: prepared.travel.as_ref(),
        fits: fits(record),
        working: end_wish(record, |ends| ends.working.as_ref())?,
        bitter: end_wish(record, |ends| ends.bitter.as_ref())?,
        cover: cover(record),
        more: if wishes_advice(record) { Added::ALL.to_vec() } else { Vec::new() },
        standing: standing(order, record),
        stretch_budget: record.stretch_budget.as_ref().map(|budget| budget.value.fraction),
        bury_diameters: loft(order, |loft| loft.bury_diameters.as_ref().map(|placed| placed.value)),
        own: None,
    })
}

fn make_line(
    order: &OrderFile,
    sweep: &Sweep,
    line: &Placed<LineRecord>,
    shelf: Shelf<'_>,
) -> Result<JobLine, Located> {
    let record = &line.value;
    let prepared = prepare(sweep, line, shelf.ropes)?;
    let made = make(order, line, &prepared, shelf)?;
    let Prepared { kind, travel, setup, load, finished, steps, mut findings, marks, old, .. } = prepared;
    findings.extend(load.findings.iter().cloned());
    if let Some(old) = &old {
        findings.extend(crate::finished::against_old(old, &made.rope, finished, load.steady));
    }
    findings.extend(made.findings.iter().cloned());
    findings.extend(crate::inland::inland(order, record, kind, &made));
    if let Some(travel) = &travel
        && !travel.hauled.turns.iter().any(|turn| turn.bearing == rig::Bearing::Winch)
    {
        let pull = load.hauling * travel.hauled.after_purchase;
        findings.extend(rig::hand_finding(pull, &sweep.question().conditions));
    }
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    let steps = load.working.iter().chain(&steps).chain(&made.steps).cloned().collect();
    Ok(JobLine { record: record.clone(), place: line.place, setup, load, travel, made, marks, findings, steps })
}

fn make(
    order: &OrderFile,
    line: &Placed<LineRecord>,
    prepared: &Prepared,
    shelf: Shelf<'_>,
) -> Result<MadeUp, Located> {
    let record = &line.value;
    let asked = LineRequest { own: Some(shelf.own), ..request(order, record, prepared)? };
    let offered = offered(record, prepared.kind, shelf.ropes)?;
    let cannot = |why: makeup::MakeUpError| {
        let hint = match &why {
            makeup::MakeUpError::End { why, .. } => why.hints().join("; "),
            _ => String::new(),
        };
        let spot = record.ends.as_ref().map_or(line.place, |ends| ends.place);
        Box::new(files::Problem::new("cannot-be-made", why.to_string()).hint(hint).at(spot))
    };
    let made = make_up(&asked, &offered).map_err(cannot)?;
    if !wishes_advice(record) {
        return Ok(made);
    }
    let settled = settle((order, shelf.rules), line, prepared, &asked, &made.rope)?;
    let again = LineRequest { cover: settled.cover, more: settled.more, ..asked };
    let mut settled_line = make_up(&again, std::slice::from_ref(&made.rope)).map_err(cannot)?;
    settled_line.findings.push(settled.finding);
    // What was said of the other ropes stands.
    settled_line.verdicts.extend(made.verdicts.into_iter().skip(1));
    Ok(settled_line)
}

/// The same line made up for another load; `None` where that cannot be made.
pub(crate) fn made_with(job: &Job, line: &JobLine, load: &LineLoad) -> Option<MadeUp> {
    let placed = Placed { value: line.record.clone(), place: line.place };
    let prepared = prepare(&job.sweep, &placed, &job.ropes).ok()?;
    let shelf = Shelf { ropes: &job.ropes, own: &job.own.figures, rules: &job.rules };
    make(&job.order, &placed, &Prepared { load: load.clone(), ..prepared }, shelf).ok()
}

fn loft<T>(order: &OrderFile, of: impl Fn(&files::LoftRecord) -> Option<T>) -> Option<T> {
    order.loft.as_ref().and_then(|loft| of(&loft.value))
}

/// Places that say what rope they take or hold.
pub(crate) fn fits(record: &LineRecord) -> Vec<Fit> {
    let length = |placed: &Option<Placed<Length>>| placed.as_ref().map(|placed| placed.value);
    let all = record.lead.iter().map(|turn| Fit {
        name: turn.value.name.value.clone(),
        thickest: length(&turn.value.max_rope),
        thinnest: length(&turn.value.min_rope),
        groove: length(&turn.value.groove),
    });
    all.filter(|fit| fit.passes().is_some() || fit.thinnest.is_some()).collect()
}

/// How the line stands under load: its own word, that for all lines, or ours.
fn standing(order: &OrderFile, record: &LineRecord) -> StandingWish {
    let given = [record.standing.as_ref(), order.usage.value.standing.as_ref()];
    let of = |which: fn(&files::StandingRecord) -> &Option<Placed<f64>>| {
        given.iter().flatten().find_map(|standing| which(&standing.value).as_ref()).map(|placed| placed.value)
    };
    let (celsius, years) = (of(|standing| &standing.celsius), of(|standing| &standing.years));
    let usual = StandingWish::default();
    StandingWish {
        celsius: celsius.unwrap_or(usual.celsius),
        years: years.unwrap_or(usual.years),
        citation: if celsius.is_some() && years.is_some() { GIVEN.at("standing") } else { usual.citation },
    }
}

/// Is the cover left to the loft's rules?
pub(crate) fn wishes_advice(record: &LineRecord) -> bool {
    record.strip.is_none() && record.cover.as_ref().is_some_and(|cover| cover.value == files::CoverWish::Choose)
}

fn cover(record: &LineRecord) -> CoverWish {
    match (&record.strip, record.cover.as_ref().map(|placed| placed.value)) {
        (Some(strip), _) => CoverWish::Strip { from: strip.value.from.value, to: strip.value.to.value },
        (None, Some(files::CoverWish::Choose)) => CoverWish::Choose,
        _ => CoverWish::Keep,
    }
}

fn end_wish<'a>(
    record: &'a LineRecord,
    which: impl Fn(&'a files::EndsRecord) -> Option<&'a files::Placed<files::EndRecord>>,
) -> Result<EndWish, Located> {
    let old = kept(record, files::CopyPart::Ends).and_then(|copied| copied.ends.as_ref());
    let Some(end) = record.ends.as_ref().or(old).and_then(|ends| which(&ends.value)) else {
        return Ok(EndWish::default());
    };
    let kind =
        convert::end_kind(end.value.kind.value).map_err(|why| at(end.value.kind.place, "unknown-word", why.message))?;
    Ok(EndWish {
        kind: Some(kind),
        on: end.value.on.as_ref().and_then(|on| convert::fitting(on.value)),
        eye: end.value.eye.as_ref().map(|eye| eye.value),
        bury: end.value.bury.as_ref().map(|bury| convert::bury(bury.value)),
        taper: match end.value.taper.as_ref().map(|taper| taper.value) {
            Some(files::TaperWish::None) => splice::TaperWish::None,
            Some(files::TaperWish::HalfAtOnce) => splice::TaperWish::HalfAtOnce,
            Some(files::TaperWish::Chosen) => splice::TaperWish::Chosen,
            Some(files::TaperWish::Common) | None => splice::TaperWish::Common,
        },
    })
}

/// The old line, where a part of it is kept.
fn kept(record: &LineRecord, part: files::CopyPart) -> Option<&files::CopiedRecord> {
    let copied = &record.copied_from.as_ref()?.value;
    copied.keep.iter().any(|kept| kept.value == part).then_some(copied)
}

/// The ropes that a line may be made of.
fn offered(record: &LineRecord, kind: rig::LineKind, ropes: &[Rope]) -> Result<Vec<Rope>, Located> {
    let old = kept(record, files::CopyPart::Rope).and_then(|copied| copied.rope.as_ref());
    let named: Vec<_> = record.rope.iter().chain(&record.candidates).chain(old).collect();
    if !named.is_empty() {
        return named.into_iter().map(|name| find_rope(&name.value, name.place, ropes)).collect();
    }
    if ropes.is_empty() {
        return Err(Box::new(
            files::Problem::new(
                "no-rope",
                format!("no rope is named for {:?}, and there is no rope list", record.name.value),
            )
            .hint("add rope = \"10 mm 12-strand HMPE\", or give a rope list")
            .at(record.name.place),
        ));
    }
    Ok(ropes.iter().filter(|rope| suits(kind, rope)).cloned().collect())
}

/// Laid and plaited rope holds boats; braid runs through blocks.
pub(crate) fn suits(kind: rig::LineKind, rope: &Rope) -> bool {
    let moors = matches!(kind, rig::LineKind::DockLine | rig::LineKind::AnchorRode);
    matches!(rope.construction, Construction::ThreeStrand | Construction::EightPlait) == moors
}

/// A rope by its name in the list, else by its description.
pub(crate) fn find_rope(name: &str, place: Place, ropes: &[Rope]) -> Result<Rope, Located> {
    let wanted = same(name);
    if let Some(rope) = ropes.iter().find(|rope| same(&rope.name) == wanted) {
        return Ok(rope.clone());
    }
    cordage::generic(name).map_err(|why| {
        let near = ropes.iter().map(|rope| rope.name.as_str()).collect::<Vec<_>>().join(", ");
        let allowed =
            if near.is_empty() { "a description".to_owned() } else { format!("a description, or one of {near}") };
        Box::new(
            files::Problem::new("no-such-rope", format!("{name:?} is not in the rope list and no description: {why}"))
                .given(name)
                .allowed(allowed)
                .hint("write it as in the rope list, or as \"10 mm 12-strand HMPE\"")
                .at(place),
        )
    })
}

/// Names are the same whatever their capitals and spaces.
pub(crate) fn same(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
