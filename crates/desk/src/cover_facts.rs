//! What the loft's rules look at, read from a line and from what was worked out.

use crate::convert;
use crate::cover_task::{BareRun, CoverRequest, Worked};
use crate::job::Prepared;
use crate::problem::Problem;
use crate::rule_table::WeighedAnswer;
use cordage::{Construction, Rope};
use files::{LineRecord, OrderFile};
use makeup::{Fact, Facts, LineRequest, Met, SlackSheet, Touch, Weighed};
use rig::{Bearing, LineKind};
use units::{Area, Length};

/// What a bare run saves at one end of the range of wet masses.
pub(crate) struct Numbers {
    clew_n: f64,
    mass_g: f64,
}

impl Numbers {
    /// At the heavy end, or at the light one.
    pub(crate) fn of(worked: &Worked, heavy: bool) -> Numbers {
        let pick = |low: f64, high: f64| if heavy { high } else { low };
        let clew_n = worked.clew.as_ref().map_or(0.0, |(_, load)| {
            let (with, without) = (load.covered_wet, load.stripped_wet);
            pick((with.low - without.low).to_n(), (with.high - without.high).to_n())
        });
        let mass_g = worked.weights.as_ref().map_or(0.0, |weights| {
            let (with, without) = (weights.covered_wet, weights.stripped_wet);
            pick((with.low - without.low).to_g(), (with.high - without.high).to_g())
        });
        Numbers { clew_n, mass_g }
    }
}

/// A slack sheet and where its geometry is from.
pub(crate) struct Sheet {
    pub(crate) slack: SlackSheet,
    pub(crate) geometry: &'static str,
}

const USUAL_SLACK: f64 = 0.05;

/// The slack sheet of a line; `None` for a line that hangs on no clew, or a
/// sail that the order does not have.
pub(crate) fn sheet(
    asked: &CoverRequest,
    order: &OrderFile,
    prepared: &Prepared,
    bare: Length,
) -> Result<Option<Sheet>, Problem> {
    let Some(area) = clew_area(order, prepared.kind) else { return Ok(None) };
    let slack = asked.slack.unwrap_or(USUAL_SLACK);
    if !(0.0001..=5.0).contains(&slack) {
        return Err(Problem::refused("slack", format!("a slack of {slack} is outside 0.0001 to 5"))
            .hint("5 % of the straight distance is --slack 0.05"));
    }
    let loa = order.boat.value.loa.value;
    let (span, height, geometry) = match &prepared.lead {
        Some(lead) => {
            // Half-way between hauled and eased: an eased sheet in light air.
            let half = |a: Length, b: Length| (a + b) / 2.0;
            let first = lead.turns.first().map_or(lead.hauled, |turn| turn.at);
            let (h, e) = (lead.hauled, lead.eased);
            let aft = half(h.aft, e.aft) - first.aft;
            let side = half(h.starboard, e.starboard) - first.starboard;
            let up = half(h.up, e.up) - first.up;
            (Length::of_m(aft.to_m().hypot(side.to_m())), up, "her lead, half-way between hauled and eased")
        }
        None => (loa * 0.6, loa * 0.15, "0.6 of her length across and 0.15 up: ours, without her lead"),
    };
    let given = asked.span.is_some() || asked.clew_height.is_some();
    let geometry = if given { "as given" } else { geometry };
    let slack = SlackSheet {
        span: asked.span.unwrap_or(span),
        clew_height: asked.clew_height.unwrap_or(height),
        slack,
        area,
        bare,
    };
    Ok(Some(Sheet { slack, geometry }))
}

/// Cloth of the sail at whose clew the line hangs.
fn clew_area(order: &OrderFile, kind: LineKind) -> Option<Area> {
    let sails = convert::sails(order.sails.as_ref().map(|placed| &placed.value));
    let boat = convert::boat(&order.boat.value);
    let nominal = |area: Option<Area>, i: Option<Length>, j: Option<Length>, share: f64| {
        area.or_else(|| Some(Area::of_m2(i?.to_m() * j?.to_m() * share)))
    };
    match kind {
        LineKind::JibSheet | LineKind::StaysailSheet => {
            let jib = sails.jib?;
            nominal(jib.area, boat.i, boat.j, 0.5)
        }
        LineKind::SpinnakerSheet | LineKind::Guy => {
            let spinnaker = sails.spinnaker?;
            nominal(spinnaker.area, boat.isp.or(boat.i), boat.j, 1.6)
        }
        _ => None,
    }
}

/// Every fact of a line.
pub(crate) fn facts(
    order: &OrderFile,
    record: &LineRecord,
    line: &LineRequest<'_>,
    rope: &Rope,
    met: &[Met],
    run: &BareRun,
    numbers: &Numbers,
) -> Facts {
    use LineKind as K;
    let yes = |held: bool| f64::from(u8::from(held));
    let touched = |touch: Touch| yes(met.iter().any(|met| met.touch == touch));
    let on_hardware = record
        .ends
        .as_ref()
        .and_then(|ends| ends.value.working.as_ref())
        .is_some_and(|end| end.value.on.as_ref().is_some_and(|on| on.value.size.is_some()));
    let racing = order.usage.value.kind.value == files::UseKind::ClubRacing;
    let halyard =
        matches!(line.kind, K::MainHalyard | K::JibHalyard | K::StaysailHalyard | K::SpinnakerHalyard | K::ToppingLift);
    let hurried =
        matches!(line.kind, K::SpinnakerHalyard | K::JibHalyard | K::SpinnakerSheet | K::Guy | K::TackLine | K::Runner);
    let undone = matches!(
        line.kind,
        K::FurlingLine | K::Traveller | K::LazyJack | K::LifelineLashing | K::AnchorRode | K::Messenger | K::DockLine
    );
    let fairleads =
        line.lead.map_or(0, |lead| lead.turns.iter().filter(|turn| turn.bearing == Bearing::Fairlead).count());
    let least = units::Length::of_mm(cordage::THINNEST_FOR_HANDS.get().unwrap_or(8.0));
    let thin = line.kind.handled() && rope.diameter < least;
    let wanted = line.fits.iter().filter_map(|fit| fit.thinnest).reduce(Length::max).unwrap_or(Length::ZERO);
    Facts::from([
        (Fact::Always, 1.0),
        (Fact::JawsWantMore, (wanted - rope.diameter).to_mm().max(0.0)),
        (Fact::ThinForHand, yes(thin)),
        (Fact::OnHardware, yes(on_hardware)),
        (Fact::ChafesAtEnd, touched(Touch::Chafe)),
        (Fact::ClewLoadSaved, numbers.clew_n),
        (Fact::MassAloftSaved, if halyard { numbers.mass_g } else { 0.0 }),
        (Fact::RunsInAHurry, yes(hurried)),
        (Fact::Fairleads, fairleads as f64),
        (Fact::Strippable, (run.to - run.from).to_m()),
        (Fact::Clutch, touched(Touch::Jaws)),
        (Fact::Drum, touched(Touch::Drum)),
        (Fact::Hand, yes(line.kind.handled())),
        (Fact::Stands, yes(line.kind.stands())),
        (Fact::Racing, yes(racing)),
        (Fact::NotRacing, yes(!racing)),
        (Fact::BothCarry, yes(rope.construction.has_cover() && !rope.construction.load_on_core())),
        (Fact::CoreCarries, yes(rope.construction.load_on_core())),
        (Fact::Permanent, yes(!undone)),
        (Fact::UndoneByCrew, yes(undone)),
    ])
}

/// Ends that may be weighed for a rope.
pub(crate) fn end_choices(rope: &Rope) -> Vec<&'static str> {
    match rope.construction {
        Construction::DoubleBraid(cordage::LoadOn::Core) | Construction::ParallelCore | Construction::Kernmantle => {
            vec!["covered-eye", "bare-core-eye", "whipped-end"]
        }
        Construction::DoubleBraid(cordage::LoadOn::Both) => vec!["core-and-cover-eye", "whipped-end"],
        Construction::TwelveStrand => vec!["long-bury-eye", "locked-eye", "whipped-end"],
        Construction::ThreeStrand => vec!["tucked-eye", "whipped-end"],
        Construction::EightPlait => vec!["eight-plait-tucked-eye", "whipped-end"],
    }
}

/// What was said of strip and keep, strip first.
pub(crate) fn cover_choices(weighed: &[Weighed]) -> Vec<WeighedAnswer> {
    let mut choices: Vec<WeighedAnswer> = weighed.iter().map(WeighedAnswer::of).collect();
    choices.sort_by(|a, b| b.choice.cmp(&a.choice));
    choices
}
