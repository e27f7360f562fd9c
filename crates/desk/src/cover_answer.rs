//! What `becket cover` answers, as plain records.

use crate::rule_table::WeighedAnswer;
use crate::wire::{Amount, FindingAnswer, StepAnswer};
use schemars::JsonSchema;
use serde::Serialize;

/// Cover on or off for one line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CoverAnswer {
    /// The order's number.
    pub order: String,
    /// The boat's name.
    pub boat: String,
    /// The line's name.
    pub line: String,
    /// Its kind.
    pub kind: &'static str,
    /// The verdict in one sentence with its numbers.
    pub verdict: String,
    /// `strip` or `keep`.
    pub advice: &'static str,
    /// Does the advice change within the range of wet masses?
    pub turns_on_water: bool,
    /// The rope it is worked out for.
    pub rope: String,
    /// Where the cover may come off, from the working end's bearing point;
    /// null where none may, or it is not known.
    pub strip_from: Option<Amount>,
    /// Where it must be on again.
    pub strip_to: Option<Amount>,
    /// What sets that, or why there is none.
    pub strip_because: String,
    /// What the order says of the cover, where that is another run.
    pub ordered: Option<String>,
    /// What every part of the line meets over its travel.
    pub met: Vec<MetAnswer>,
    /// Mass per length with the cover, dry.
    pub per_metre_covered_dry: Option<Amount>,
    /// Mass per length of the bare core, dry.
    pub per_metre_bare_dry: Option<Amount>,
    /// Mass per length with the cover, wet.
    pub per_metre_covered_wet: Option<RangeAnswer>,
    /// Mass per length of the bare core, wet.
    pub per_metre_bare_wet: Option<RangeAnswer>,
    /// Mass of the line with its cover, dry.
    pub mass_covered_dry: Option<RangeAnswer>,
    /// Mass of the line with the run bare, dry.
    pub mass_stripped_dry: Option<RangeAnswer>,
    /// Mass of the line with its cover, wet.
    pub mass_covered_wet: Option<RangeAnswer>,
    /// Mass of the line with the run bare, wet.
    pub mass_stripped_wet: Option<RangeAnswer>,
    /// What the slack sheet pulls on the clew; null where no clew carries it.
    pub clew_load: Option<ClewAnswer>,
    /// Wind below which the sail cannot lift its sheet; null as above.
    pub lift_wind: Option<LiftAnswer>,
    /// Hauling the sail up; null for other lines than halyards.
    pub hoist: Option<HoistAnswer>,
    /// Wind's pull on the line, cover on and bare; null without a core diameter.
    pub drag: Option<DragAnswer>,
    /// Friction over fairleads; null where the lead has none.
    pub fairleads: Option<FairleadAnswer>,
    /// What stripping costs: sun, chafe, grip, in words.
    pub costs: Vec<CostAnswer>,
    /// Sleeves, second covers, filled cores.
    pub more: Vec<MoreAnswer>,
    /// The loft's rules on the cover, for and against.
    pub rules: Vec<WeighedAnswer>,
    /// The loft's rules on the working end, the best choice first.
    pub ends: Vec<WeighedAnswer>,
    /// The end that the order names.
    pub ordered_end: Option<String>,
    /// What is to be said about it.
    pub findings: Vec<FindingAnswer>,
    /// How the numbers came about.
    pub working: Vec<StepAnswer>,
    /// The rope list that was read.
    pub rope_list: Option<String>,
    /// The plot as SVG.
    #[serde(skip)]
    pub plot: String,
}

/// A range with what it rests on.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RangeAnswer {
    /// Least.
    pub low: Amount,
    /// Most.
    pub high: Amount,
    /// What it rests on.
    pub basis: String,
}

impl RangeAnswer {
    /// One number, or both ends.
    #[must_use]
    pub fn text(&self) -> String {
        if self.low.text == self.high.text {
            self.low.text.clone()
        } else {
            format!("{} to {}", self.low.text, self.high.text)
        }
    }
}

/// A part of the line and what it meets.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MetAnswer {
    /// `sheave`, `fairlead`, `chafe`, `jaws`, `drum` or `hand`.
    pub touch: &'static str,
    /// Where on the boat.
    pub place: String,
    /// From the working end.
    pub from: Amount,
    /// Where it ends.
    pub to: Amount,
    /// Must the cover stay there?
    pub keeps_cover: bool,
}

/// Pull of a slack sheet on its clew.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ClewAnswer {
    /// Distance across, clew to block.
    pub span: Amount,
    /// Clew above the block.
    pub clew_height: Amount,
    /// Length over the straight distance, less one.
    pub slack: f64,
    /// Where the geometry is from.
    pub geometry: &'static str,
    /// Cover on, dry.
    pub covered_dry: Amount,
    /// Run bare, dry.
    pub stripped_dry: Amount,
    /// Cover on, wet.
    pub covered_wet: RangeAnswer,
    /// Run bare, wet.
    pub stripped_wet: RangeAnswer,
}

/// Wind that lifts the sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LiftAnswer {
    /// Cover on, dry.
    pub covered_dry: Amount,
    /// Run bare, dry.
    pub stripped_dry: Amount,
    /// Cover on, wet.
    pub covered_wet: RangeAnswer,
    /// Run bare, wet.
    pub stripped_wet: RangeAnswer,
}

/// Hauling the sail up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct HoistAnswer {
    /// The sail.
    pub sail: Amount,
    /// How far it goes up.
    pub height: Amount,
    /// Power of the people who haul, watts.
    pub power_w: f64,
    /// The largest pull with the cover, wet at most.
    pub largest_covered: Amount,
    /// The same with the run bare.
    pub largest_stripped: Amount,
    /// Time with the cover, wet at most.
    pub time_covered: Amount,
    /// The same with the run bare.
    pub time_stripped: Amount,
    /// Height and pull with the cover and with the run bare.
    pub profile: Vec<[f64; 3]>,
}

/// Wind's pull on the line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DragAnswer {
    /// The wind.
    pub wind: Amount,
    /// Length in it.
    pub length: Amount,
    /// Cover on.
    pub covered: Amount,
    /// Run bare.
    pub stripped: Amount,
    /// Weight of the cover's fibre under water over its dry weight.
    pub cover_in_water: f64,
    /// The same of the core's.
    pub core_in_water: f64,
}

/// Friction over fairleads.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FairleadAnswer {
    /// How many.
    pub fairleads: usize,
    /// Pull at the hand over pull at the end, cover on.
    pub covered: f64,
    /// The same bare: least and most.
    pub bare: [f64; 2],
}

/// What stripping costs.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CostAnswer {
    /// `sun`, `chafe` or `grip`.
    pub what: &'static str,
    /// `none`, `little`, `some` or `much`.
    pub how_much: &'static str,
    /// Why.
    pub reason: String,
}

impl MoreAnswer {
    pub(crate) fn of(addition: &makeup::Addition, system: units::System) -> MoreAnswer {
        MoreAnswer {
            what: addition.added.word(),
            from: Amount::of(addition.from.nearest_mm(), system),
            to: Amount::of(addition.to.nearest_mm(), system),
            thickness: Amount::of(addition.thickness, system),
            mass: Amount::of(addition.mass, system),
            reason: addition.reason.show(system),
            findings: crate::wire::findings(&addition.findings, system),
        }
    }
}

/// More cover.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MoreAnswer {
    /// `chafe sleeve`, `second cover` or `filled core`.
    pub what: &'static str,
    /// From the working end.
    pub from: Amount,
    /// Where it ends.
    pub to: Amount,
    /// Thickness there afterwards.
    pub thickness: Amount,
    /// Mass added, dry.
    pub mass: Amount,
    /// Why.
    pub reason: String,
    /// Places that it then does not pass.
    pub findings: Vec<FindingAnswer>,
}
