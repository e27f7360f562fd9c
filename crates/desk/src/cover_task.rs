//! Cover on or off: where it may come off, what that saves, what it costs, and
//! what the loft's rules say.

use crate::convert;
use crate::cover_answer::{
    ClewAnswer, CostAnswer, CoverAnswer, DragAnswer, FairleadAnswer, HoistAnswer, LiftAnswer, MetAnswer, MoreAnswer,
    RangeAnswer,
};
use crate::cover_facts::{Numbers, Sheet, cover_choices, end_choices, facts, sheet};
use crate::cover_plot::plot;
use crate::job::{Opened, OrderAsked, Prepared, find_rope, open_order, request, suits};
use crate::problem::Problem;
use crate::rule_table::{WeighedAnswer, loft_rules};
use crate::text::Text;
use crate::wire::{Amount, findings, steps};
use cordage::Rope;
use files::{LineRecord, OrderFile, Placed};
use makeup::{
    ClewLoad, Hoist, HoistProfile, LineRequest, Met, Ranged, Strippable, Touch, Weights, additions, bare_diameter,
    clew_load, hoist, make_up, over_fairleads, soaked, strippable, travel, weigh, weight_in_water, weights, wind_drag,
};
use rig::LineKind;
use sources::{Finding, Step};
use units::{Length, LinearDensity, Mass, Speed, System, Value};

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct CoverRequest {
    /// The order file.
    pub order: Text,
    /// The line's name.
    pub line: String,
    /// The rope list; `ropes.csv` beside the order where not given.
    pub ropes: Option<Text>,
    /// The loft's rules; those of the program where not given.
    pub rules: Option<Text>,
    /// Clew above the block.
    pub clew_height: Option<Length>,
    /// Distance across, clew to block.
    pub span: Option<Length>,
    /// Length over the straight distance, less one.
    pub slack: Option<f64>,
    /// Power of the people who haul, watts.
    pub power_w: Option<f64>,
    /// Units to print; the order's own where not given.
    pub units: Option<System>,
}

/// What is worked out of one line before it is told.
pub(crate) struct Worked {
    pub(crate) weights: Option<Weights>,
    pub(crate) clew: Option<(Sheet, ClewLoad)>,
    pub(crate) hoists: Option<(Hoist, HoistProfile, HoistProfile)>,
    pub(crate) bare: Length,
}

/// Cover on or off for a line of an order.
///
/// # Errors
/// When a file has mistakes, no line has the name, or no rope can be made up.
pub fn cover(asked: &CoverRequest) -> Result<CoverAnswer, Problem> {
    let opened = open_order(&OrderAsked {
        order: &asked.order,
        ropes: asked.ropes.as_ref(),
        own: &crate::OwnSource::default(),
        units: asked.units,
    })?;
    let rules = loft_rules(asked.rules.clone().or_else(|| asked.order.beside("rules.csv")).as_ref())?;
    let placed = opened.line(&asked.line)?;
    let prepared = opened.prepared(placed)?;
    let line = request(&opened.order, &placed.value, &prepared).map_err(|why| opened.input.problem(&[*why]))?;
    let rope = rope_of(&opened, placed, &prepared, &line)?;
    let met = travel(&line);
    let may = strippable(&line, &met, least_run(&rope));
    let run = bare_run(&may, &placed.value, &rope);
    let worked = worked(asked, &opened.order, &prepared, &line, &rope, &run)?;
    let numbers = |heavy| Numbers::of(&worked, heavy);
    let [light, heavy] =
        [false, true].map(|heavy| facts(&opened.order, &placed.value, &line, &rope, &met, &run, &numbers(heavy)));
    let at_light = weigh(&rules, &light, &["keep", "strip"]);
    let at_heavy = weigh(&rules, &heavy, &["keep", "strip"]);
    let can = run.to > Length::ZERO && rope.construction.has_cover();
    let chosen = |weighed: &[makeup::Weighed]| {
        if can && weighed.first().is_some_and(|first| first.choice == "strip") { "strip" } else { "keep" }
    };
    let (advice, otherwise) = (chosen(&at_heavy), chosen(&at_light));
    let ends = weigh(&rules, &heavy, &end_choices(&rope));
    let answer = Told {
        asked,
        opened: &opened,
        placed,
        prepared: &prepared,
        line: &line,
        rope: &rope,
        met: &met,
        run: &run,
        worked: &worked,
        advice,
        turns: advice != otherwise,
    };
    Ok(answer.answer(&cover_choices(&at_heavy), &ends))
}

/// The rope that the line table takes, or the ordered one.
fn rope_of(
    opened: &Opened,
    placed: &Placed<LineRecord>,
    prepared: &Prepared,
    line: &LineRequest<'_>,
) -> Result<Rope, Problem> {
    let ropes: Vec<Rope> = opened.ropes.iter().map(|listed| listed.rope.clone()).collect();
    let record = &placed.value;
    let named: Vec<_> = record.rope.iter().chain(&record.candidates).collect();
    let offered = if named.is_empty() {
        ropes.iter().filter(|rope| suits(prepared.kind, rope)).cloned().collect()
    } else {
        let found: Result<Vec<Rope>, _> =
            named.into_iter().map(|name| find_rope(&name.value, name.place, &ropes)).collect();
        found.map_err(|why| opened.input.problem(&[*why]))?
    };
    match &offered[..] {
        [only] => Ok(only.clone()),
        _ => {
            let made = make_up(line, &offered).map_err(|why| Problem::refused("cannot-be-made", why.to_string()))?;
            Ok(made.rope)
        }
    }
}

/// Bury, the cover's end in the core, and room between them: the shortest run
/// that a bare-core eye leaves.
pub(crate) fn least_run(rope: &Rope) -> Length {
    let core = rope.gripping_diameter().unwrap_or(rope.diameter);
    core * (splice::LoftRules::COMMON.bury_diameters.unwrap_or(72.0) + 21.0 + 15.0)
}

/// The run that is reckoned bare.
pub(crate) struct BareRun {
    pub(crate) from: Length,
    pub(crate) to: Length,
    pub(crate) known: bool,
    pub(crate) because: String,
    pub(crate) ordered: Option<(Length, Length)>,
}

/// What her lead allows; without a lead, what the order says.
pub(crate) fn bare_run(may: &Strippable, record: &LineRecord, rope: &Rope) -> BareRun {
    let ordered = record.strip.as_ref().map(|strip| (strip.value.from.value, strip.value.to.value));
    let show = |sentence: &units::Sentence| sentence.show(System::Metric);
    let none = |because: String| BareRun { from: Length::ZERO, to: Length::ZERO, known: false, because, ordered };
    if !rope.construction.has_cover() {
        return none("the rope has no cover".to_owned());
    }
    match (may, ordered) {
        (Strippable::Run { from, to, until }, _) => {
            BareRun { from: *from, to: *to, known: true, because: show(until), ordered }
        }
        (Strippable::None(why), _) => none(show(why)),
        (Strippable::Unknown(why), Some((from, to))) => BareRun {
            from,
            to,
            known: true,
            because: format!("the run that the order names, not held against jaws and hand: {}", show(why)),
            ordered,
        },
        (Strippable::Unknown(why), None) => none(show(why)),
    }
}

pub(crate) fn worked(
    asked: &CoverRequest,
    order: &OrderFile,
    prepared: &Prepared,
    line: &LineRequest<'_>,
    rope: &Rope,
    run: &BareRun,
) -> Result<Worked, Problem> {
    let bare = run.to - run.from;
    let Some(each) = makeup::per_metre(rope) else {
        return Ok(Worked { weights: None, clew: None, hoists: None, bare });
    };
    let clew = match sheet(asked, order, prepared, bare)? {
        Some(sheet) => {
            let load = clew_load(&sheet.slack, &each)
                .map_err(|why| Problem::refused("slack-sheet", why.to_string()).hint("give more --slack"))?;
            Some((sheet, load))
        }
        None => None,
    };
    let hoists = lift(asked, order, prepared, line, bare)?.map(|lift| {
        let (covered, core) = soaked(&each);
        let with = hoist(&Hoist { bare: Length::ZERO, ..lift }, covered, covered);
        let without = hoist(&lift, covered, core);
        (lift, with, without)
    });
    Ok(Worked { weights: Some(weights(&each, prepared.finished, bare)), clew, hoists, bare })
}

/// The sail that a halyard lifts, and how far; `None` for other lines, or
/// where the order has no sail or lead.
fn lift(
    asked: &CoverRequest,
    order: &OrderFile,
    prepared: &Prepared,
    line: &LineRequest<'_>,
    bare: Length,
) -> Result<Option<Hoist>, Problem> {
    let sails = convert::sails(order.sails.as_ref().map(|placed| &placed.value));
    let mass: Option<Mass> = match prepared.kind {
        LineKind::MainHalyard => sails.main.and_then(|main| main.mass),
        LineKind::JibHalyard => sails.jib.and_then(|jib| jib.mass),
        LineKind::SpinnakerHalyard => sails.spinnaker.and_then(|spinnaker| spinnaker.mass),
        _ => None,
    };
    let (Some(sail), Some(travel)) = (mass, line.travel) else { return Ok(None) };
    let (eased, hauled) = (&travel.eased, &travel.hauled);
    let first = |run: &rig::Run| run.turns.first().map(|turn| turn.begins);
    let (Some(low), Some(high)) = (first(eased), first(hauled)) else { return Ok(None) };
    let power_w = asked.power_w.unwrap_or(100.0);
    if !(5.0..=3000.0).contains(&power_w) {
        return Err(Problem::refused("power", format!("{power_w} W is no power of people who haul"))
            .hint("one person gives 75 to 150 W for a while"));
    }
    Ok((low > high).then_some(Hoist {
        sail,
        height: low - high,
        to_sheave: low,
        parts: travel.parts,
        friction: hauled.hand_over_end,
        bare,
        power_w,
    }))
}

/// Everything that the answer is told from.
struct Told<'a> {
    asked: &'a CoverRequest,
    opened: &'a Opened,
    placed: &'a Placed<LineRecord>,
    prepared: &'a Prepared,
    line: &'a LineRequest<'a>,
    rope: &'a Rope,
    met: &'a [Met],
    run: &'a BareRun,
    worked: &'a Worked,
    advice: &'static str,
    turns: bool,
}

impl Told<'_> {
    fn amount(&self, value: impl Into<Value>) -> Amount {
        Amount::of(value, self.opened.system)
    }

    fn range<T: Copy + Into<Value>>(&self, range: Ranged<T>) -> RangeAnswer {
        RangeAnswer { low: self.amount(range.low), high: self.amount(range.high), basis: range.basis.to_owned() }
    }

    fn answer(&self, rules: &[WeighedAnswer], ends: &[makeup::Weighed]) -> CoverAnswer {
        let record = &self.placed.value;
        let weights = self.worked.weights.as_ref();
        let each = makeup::per_metre(self.rope);
        let shown = self.run.known && self.run.to > Length::ZERO;
        let metre = |of: fn(&makeup::PerMetre) -> Ranged<LinearDensity>| each.as_ref().map(|each| self.range(of(each)));
        CoverAnswer {
            order: self.opened.order.order.value.number.value.clone(),
            boat: self.opened.order.boat.value.name.value.clone(),
            line: record.name.value.clone(),
            kind: record.kind.value.word(),
            verdict: self.verdict(rules),
            advice: self.advice,
            turns_on_water: self.turns,
            rope: self.rope.name.clone(),
            strip_from: shown.then(|| self.amount(self.run.from.nearest_mm())),
            strip_to: shown.then(|| self.amount(self.run.to.nearest_mm())),
            strip_because: self.run.because.clone(),
            ordered: self.ordered(),
            met: self.met.iter().map(|met| self.met_answer(met)).collect(),
            per_metre_covered_dry: each.as_ref().map(|each| self.amount(each.covered_dry.low)),
            per_metre_bare_dry: each.as_ref().map(|each| self.amount(each.bare_dry.low)),
            per_metre_covered_wet: metre(|each| each.covered_wet),
            per_metre_bare_wet: metre(|each| each.bare_wet),
            mass_covered_dry: weights.map(|weights| self.range(weights.covered_dry)),
            mass_stripped_dry: weights.map(|weights| self.range(weights.stripped_dry)),
            mass_covered_wet: weights.map(|weights| self.range(weights.covered_wet)),
            mass_stripped_wet: weights.map(|weights| self.range(weights.stripped_wet)),
            clew_load: self.worked.clew.as_ref().map(|(sheet, load)| self.clew(sheet, load)),
            lift_wind: self.worked.clew.as_ref().map(|(_, load)| LiftAnswer {
                covered_dry: self.amount(load.lift_covered_dry),
                stripped_dry: self.amount(load.lift_stripped_dry),
                covered_wet: self.range(load.lift_covered_wet),
                stripped_wet: self.range(load.lift_stripped_wet),
            }),
            hoist: self.worked.hoists.as_ref().map(|hoists| self.hoist(hoists)),
            drag: self.drag(),
            fairleads: self.fairleads(),
            costs: self.costs(),
            more: self.more(),
            rules: rules.to_vec(),
            ends: ends.iter().map(WeighedAnswer::of).collect(),
            ordered_end: record
                .ends
                .as_ref()
                .and_then(|ends| ends.value.working.as_ref())
                .map(|end| end.value.kind.value.word().to_owned()),
            findings: findings(&self.findings(), self.opened.system),
            working: steps(&self.working(), self.opened.system),
            rope_list: self.opened.rope_list.as_ref().map(ToString::to_string),
            plot: plot(self.worked, self.asked, &each).unwrap_or_default(),
        }
    }

    fn met_answer(&self, met: &Met) -> MetAnswer {
        MetAnswer {
            touch: met.touch.word(),
            place: met.place.clone(),
            from: self.amount(met.from),
            to: self.amount(met.to),
            keeps_cover: met.touch.keeps_cover(),
        }
    }

    /// Another run in the order than her lead allows, or another wish.
    fn ordered(&self) -> Option<String> {
        let (from, to) = self.run.ordered?;
        let text = |length: Length| Value::from(length.nearest_mm()).show(self.opened.system);
        let against = if to > self.run.to { ": it reaches further than her lead allows" } else { "" };
        Some(format!("the order takes it off from {} to {}{against}", text(from), text(to)))
    }

    fn verdict(&self, rules: &[WeighedAnswer]) -> String {
        let system = self.opened.system;
        let bench = |length: Length| Value::from(length.nearest_mm()).show(system);
        let reasons = |choice: &str| {
            let weighed = rules.iter().find(|weighed| weighed.choice == choice);
            let spoken =
                weighed.into_iter().flat_map(|weighed| &weighed.spoken).filter(|spoken| spoken.speaks == "for");
            spoken.map(|spoken| spoken.rule.clone()).take(3).collect::<Vec<_>>().join(", ")
        };
        if !self.rope.construction.has_cover() {
            return format!("{} has no cover to take off", self.rope.name);
        }
        let numbers = self.saved();
        let turns = if self.turns {
            "; it turns on how much water the cover holds: weigh a metre soaked and dripped"
        } else {
            ""
        };
        if self.run.to <= Length::ZERO {
            return format!("the cover stays on: {}", self.run.because);
        }
        if self.advice == "strip" {
            return format!(
                "take the cover off from {} to {} ({}): {numbers}{turns}",
                bench(self.run.from),
                bench(self.run.to),
                reasons("strip")
            );
        }
        format!("the cover stays on ({}); off it would save: {numbers}{turns}", reasons("keep"))
    }

    /// What a bare run saves, in numbers.
    fn saved(&self) -> String {
        let system = self.opened.system;
        let Some(weights) = &self.worked.weights else {
            return "what it saves is not known, the core was not weighed".to_owned();
        };
        let dry = weights.covered_dry.low - weights.stripped_dry.low;
        let least = weights.covered_wet.low - weights.stripped_wet.low;
        let most = weights.covered_wet.high - weights.stripped_wet.high;
        let show = |mass: Mass| Value::from(mass).show(system);
        let mut text = format!("{} dry, {} to {} wet", show(dry), show(least), show(most));
        if let Some((_, load)) = &self.worked.clew {
            let wind = |speed: Speed| Value::from(speed).show(system);
            text.push_str(&format!(
                "; the sail lifts its wet sheet from {} instead of {}",
                wind(load.lift_stripped_wet.high),
                wind(load.lift_covered_wet.high)
            ));
        }
        // Bare rope inside the mast helps the hand less: no gain is claimed there.
        if let Some((_, with, without)) =
            self.worked.hoists.as_ref().filter(|(_, with, without)| without.largest < with.largest)
        {
            text.push_str(&format!(
                "; the largest pull at the hand is {} instead of {}",
                Value::from(without.largest).show(system),
                Value::from(with.largest).show(system)
            ));
        }
        text
    }

    fn clew(&self, sheet: &Sheet, load: &ClewLoad) -> ClewAnswer {
        ClewAnswer {
            span: self.amount(sheet.slack.span),
            clew_height: self.amount(sheet.slack.clew_height),
            slack: sheet.slack.slack,
            geometry: sheet.geometry,
            covered_dry: self.amount(load.covered_dry),
            stripped_dry: self.amount(load.stripped_dry),
            covered_wet: self.range(load.covered_wet),
            stripped_wet: self.range(load.stripped_wet),
        }
    }

    fn hoist(&self, (lift, with, without): &(Hoist, HoistProfile, HoistProfile)) -> HoistAnswer {
        let each_tenth = with.points.iter().zip(&without.points).step_by(10);
        HoistAnswer {
            sail: self.amount(lift.sail),
            height: self.amount(lift.height),
            power_w: lift.power_w,
            largest_covered: self.amount(with.largest),
            largest_stripped: self.amount(without.largest),
            time_covered: self.amount(with.time),
            time_stripped: self.amount(without.time),
            profile: each_tenth.map(|((at, a), (_, b))| [at.to_m(), a.to_n(), b.to_n()]).collect(),
        }
    }

    /// The part that lies in the wind: what hangs from a clew, else the bare run.
    fn drag(&self) -> Option<DragAnswer> {
        let bare = bare_diameter(self.rope)?;
        let conditions = convert::conditions(&self.opened.order.usage.value);
        let wind = conditions.wind_upwind.unwrap_or(Speed::of_knots(16.0));
        let length = match &self.worked.clew {
            Some((_, load)) => load.hanging,
            None if self.worked.bare > Length::ZERO => self.worked.bare,
            None => return None,
        };
        let stripped = self.worked.bare.min(length);
        let covered_pull = wind_drag(wind, self.rope.diameter, length);
        let stripped_pull = wind_drag(wind, bare, stripped) + wind_drag(wind, self.rope.diameter, length - stripped);
        Some(DragAnswer {
            wind: self.amount(wind),
            length: self.amount(length),
            covered: self.amount(covered_pull),
            stripped: self.amount(stripped_pull),
            cover_in_water: weight_in_water(self.rope.outside_fibre()),
            core_in_water: weight_in_water(self.rope.fibre),
        })
    }

    fn fairleads(&self) -> Option<FairleadAnswer> {
        let friction = over_fairleads(&self.line.travel?.hauled)?;
        Some(FairleadAnswer {
            fairleads: friction.fairleads,
            covered: friction.covered,
            bare: [friction.bare.0, friction.bare.1],
        })
    }

    fn costs(&self) -> Vec<CostAnswer> {
        let stands = self.prepared.kind.stands();
        let sun = self.rope.fibre.sun();
        let chafed = self.met.iter().find(|met| met.touch == Touch::Chafe);
        let gripped = self.met.iter().find(|met| met.touch.keeps_cover() && met.touch != Touch::Chafe);
        let sun_grade = match (sun, stands) {
            (cordage::Sun::Good, _) => "none",
            (cordage::Sun::Fair, false) => "little",
            (cordage::Sun::Fair, true) => "some",
            _ => "much",
        };
        let until = if stands { "for days" } else { "while it is set" };
        vec![
            CostAnswer {
                what: "sun",
                how_much: sun_grade,
                reason: format!(
                    "bare {} stands sunlight {}, and lies in it {until}",
                    self.rope.fibre.name(),
                    sun.word()
                ),
            },
            CostAnswer {
                what: "chafe",
                how_much: if chafed.is_some() { "much" } else { "little" },
                reason: chafed.map_or_else(
                    || "nothing on her lead works on the bare part but its own sheaves".to_owned(),
                    |met| format!("the bare part would work on {}", met.place),
                ),
            },
            CostAnswer {
                what: "grip",
                how_much: if gripped.is_some() { "none" } else { "not assessed" },
                reason: gripped.map_or_else(
                    || "where it is gripped is not known without her lead".to_owned(),
                    |met| format!("the cover is on again before {}", met.place),
                ),
            },
        ]
    }

    fn more(&self) -> Vec<MoreAnswer> {
        let more = additions(self.line, self.rope, self.met);
        more.iter().map(|addition| MoreAnswer::of(addition, self.opened.system)).collect()
    }

    fn findings(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        if let (Some((_, to)), Some(first)) =
            (self.run.ordered, self.met.iter().find(|met| matches!(met.touch, Touch::Jaws | Touch::Drum | Touch::Hand)))
            && to > first.from
        {
            let text = units::Sentence::new("the order takes the cover off to {}, and {} takes it from {} on")
                .with(to.nearest_mm())
                .with(first.place.as_str())
                .with(first.from.nearest_mm());
            found.push(
                Finding::new(
                    sources::Grade::Stop,
                    "bare-in-jaws",
                    text,
                    sources::COMMON_PRACTICE.at("no bare core in jaws or hand"),
                )
                .remedy(units::Sentence::new("end it at {} or sooner").with(self.run.to.nearest_mm())),
            );
        }
        if self.rope.construction.has_cover() && self.worked.weights.is_none() {
            let text = units::Sentence::new("what stripping saves is not known: the core was not weighed");
            found.push(
                Finding::new(
                    sources::Grade::Note,
                    "core-not-weighed",
                    text,
                    sources::COMMON_PRACTICE.at("weigh a metre of stripped core"),
                )
                .remedy(units::Sentence::new("put core_linear_density in the rope list")),
            );
        }
        found
    }

    fn working(&self) -> Vec<Step> {
        let mut working: Vec<Step> = Vec::new();
        working.extend(self.worked.weights.iter().flat_map(|weights| weights.working.iter().cloned()));
        working.extend(self.worked.clew.iter().flat_map(|(_, load)| load.working.iter().cloned()));
        working.extend(
            self.worked.hoists.iter().flat_map(|(_, with, without)| {
                with.working.iter().chain(&without.working).cloned().collect::<Vec<_>>()
            }),
        );
        working
    }
}
