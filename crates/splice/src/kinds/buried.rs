//! What all buried tails share: which braid grips, how long, how tapered, does
//! it hold, what it takes up, and where its marks go.

use super::reasons;
use crate::at_load::{LoadsRequest, grip_at_loads};
use crate::chance::{ChanceRequest, ChanceWish};
use crate::chooser::{Choice, choose};
use crate::elastic::{BEDDING_SLIP, CELLS, Grid, Service, State, solve};
use crate::grip::{EVEN_LEGS, Hold, bury_for_margin, grip_needed, hold, leg_share};
use crate::layout::{Grip, Hand, Layout, Part, Shape, TaperStep};
use crate::marks::MarkSheet;
use crate::prior::{Belief, Measured, belief, usual_belief};
use crate::tail::{Slice, Tail, grip_sum, shrinkage};
use crate::taper::{COMMON_PAIRS, SLANT, TaperError, TaperWish, tail_for};
use crate::turn::turn_penalty;
use crate::weak::{WeakRequest, Weakness, full_length_point, weakness};
use crate::{Braid, BuryWish, EndRequest, Eye, LoadGrip, NEARLY_SLACK, SpliceError, ThroatLock};
use cordage::stiffness;
use sources::{COMMON_PRACTICE, Citation, EXACT, Finding, GIVEN, OURS, Step};
use std::borrow::Cow;
use units::{Force, Length, Value};

/// A buried tail, laid out.
pub(crate) struct Bury {
    /// Diameter of the braid that grips.
    pub diameter: Length,
    /// Along the tail.
    pub length: Length,
    /// The tail in diameters.
    pub tail: Tail,
    /// Free standing part over the bury, less the bury.
    pub shrinkage: Length,
    /// One pick of the free braid.
    pub pick: Length,
    /// Tail's end to where the puller goes in.
    pub lead: Length,
    /// The braid that the layout is drawn for.
    pub braid: Braid,
    /// The same, its free angle in degrees and its inflation.
    shape: (Braid, f64, f64),
    /// What is believed of the rope.
    pub belief: Cow<'static, Belief>,
    /// Does it hold?
    pub hold: Hold,
    /// Share of the load that the tail carries at the throat.
    pub rho: f64,
    pub findings: Vec<Finding>,
    pub working: Vec<Step>,
}

/// The diameter of the braid that grips.
pub(crate) fn gripping(request: &EndRequest, working: &mut Vec<Step>) -> Result<Length, SpliceError> {
    let missing = || SpliceError::CoreDiameterMissing { rope: request.rope.name.clone() };
    let diameter = request.rope.gripping_diameter().ok_or_else(missing)?;
    let what = if request.rope.construction.load_on_core() { "stripped core's diameter" } else { "rope's diameter" };
    working.push(Step::new(what, "", diameter, GIVEN.at("rope list or description")));
    Ok(diameter)
}

/// The buried tail of a request; `rho` is the share of the load it carries.
pub(crate) fn bury(request: &EndRequest) -> Result<Bury, SpliceError> {
    let mut working = Vec::new();
    let diameter = gripping(request, &mut working)?;
    let rho = request.pin_friction.map_or(EVEN_LEGS, leg_share);
    if let Some(friction) = request.pin_friction {
        working.push(
            Step::new(
                "share of the tail's leg",
                "e^(pi mu) / (1 + e^(pi mu))",
                Value::Share(rho),
                OURS.at("capstan at the crown"),
            )
            .input("mu", friction),
        );
    }
    let measured = measured(request, diameter)?;
    let belief = believed(request, measured)?;
    let (braid, angle, inflation) = belief.bench_braid(measured)?;
    let pick = braid.pick();
    let wish = Wish { belief: &belief, braid, pick, rho, diameter };
    let length = bury_length(request, &wish, &mut working)?;
    let tail = tail(request, length / diameter, &wish)?;
    let slices = tail.slices();
    let mut hold = hold(&belief, &slices, rho);
    let times = request.shrinkage_times();
    hold.shrinkage = hold.shrinkage.map(|share| share * times);
    let shrinkage = diameter * shrinkage(&braid, &slices) * times;
    let bury = Bury {
        diameter,
        length,
        shrinkage,
        pick: diameter * pick,
        lead: diameter * request.rules.puller_lead_diameters,
        findings: Vec::new(),
        working,
        rho,
        braid,
        shape: (braid, angle, inflation),
        tail,
        hold,
        belief,
    };
    Ok(explained(bury, request, &slices))
}

/// The simulation of a request whose end is held by one bury, its as-made
/// length within the loft's tolerance.
pub(crate) fn chance_request(request: &EndRequest, wish: ChanceWish) -> Result<ChanceRequest, SpliceError> {
    let bury = bury(request)?;
    Ok(ChanceRequest {
        fibre: request.rope.fibre,
        measured: measured(request, bury.diameter)?,
        friction: request.friction,
        friction_times: request.friction_times(),
        bury_within: request.rules.tolerance / bury.length,
        diameter_within: wish.diameter_within,
        tail: bury.tail,
        rho: bury.rho,
        draws: wish.draws,
        seed: wish.seed,
    })
}

/// What is believed of the rope, with what was measured of it.
fn believed(request: &EndRequest, measured: Measured) -> Result<Cow<'static, Belief>, SpliceError> {
    let found = match (measured == Measured::default(), request.friction) {
        (true, None) => Cow::Borrowed(usual_belief(request.rope.fibre)?),
        _ => Cow::Owned(belief(request.rope.fibre, measured, request.friction)?),
    };
    let times = request.friction_times();
    Ok(if times == 1.0 { found } else { Cow::Owned(found.into_owned().with_friction(times)) })
}

/// The braid of a splice that is not held by its bury alone, and the figures
/// that were assumed of it.
pub(crate) fn assumed_braid(request: &EndRequest, diameter: Length) -> Result<(Braid, Vec<Step>), SpliceError> {
    let measured = measured(request, diameter)?;
    let belief = believed(request, measured)?;
    let (braid, angle, inflation) = belief.bench_braid(measured)?;
    Ok((braid, reasons::shape(request, diameter, (braid, angle, inflation)).to_vec()))
}

/// What a bury is chosen by.
struct Wish<'a> {
    belief: &'a Belief,
    braid: Braid,
    pick: f64,
    rho: f64,
    diameter: Length,
}

fn measured(request: &EndRequest, diameter: Length) -> Result<Measured, SpliceError> {
    let bench = request.measured;
    let positive = |what, length: Option<Length>| match length {
        Some(given) if given <= Length::ZERO => Err(SpliceError::NotAboveZero { what, given }),
        other => Ok(other.map(|length| length / diameter)),
    };
    let by_picks = match bench.picks_per_metre {
        Some(picks) if !(1.0..=5000.0).contains(&picks) => {
            return Err(SpliceError::OutOfRange { what: "picks per metre", given: picks, low: 1.0, high: 5000.0 });
        }
        // Along one line a full turn crosses half the strands.
        Some(picks) => Some(Length::of_m(f64::from(crate::STRANDS / 2) / picks) / diameter),
        None => None,
    };
    let pitch = positive("the pitch", bench.pitch.or(request.rope.pitch))?;
    Ok(Measured {
        pitch: pitch.or(by_picks),
        over_bury: positive("the diameter over a trial bury", bench.over_bury)?,
        strand_width: positive("the strand's width", bench.strand_width)?,
    })
}

fn bury_length(request: &EndRequest, wish: &Wish, working: &mut Vec<Step>) -> Result<Length, SpliceError> {
    let diameter = wish.diameter;
    let by = |diameters: f64, citation: Citation| {
        (
            diameter * diameters,
            Step::new("bury", "n d", diameter * diameters, citation).input("n", diameters).input("d", diameter),
        )
    };
    let (length, step) = match (request.bury, request.rules.bury_diameters) {
        (Some(BuryWish::Diameters(diameters)), _) => by(diameters, GIVEN.at("the bury asked for")),
        (Some(BuryWish::Length(length)), _) => (length, Step::new("bury", "", length, GIVEN.at("the bury asked for"))),
        (Some(BuryWish::Margin(wanted)), _) => {
            let tail_of = |bury: f64| {
                tail_for(request.taper, bury, wish.pick).unwrap_or_else(|_| crate::taper::common(bury)).slices()
            };
            let diameters =
                bury_for_margin(wish.belief, wanted, wish.rho, tail_of).ok_or(SpliceError::NoBuryHolds { wanted })?;
            let length = (diameter * diameters).up_to_mm().to_length();
            let step = Step::new(
                "bury",
                "where the grip margin at the low end is the one wanted",
                length,
                OURS.at("grip model"),
            )
            .input("margin", wanted);
            (length, step)
        }
        (None, Some(diameters)) => by(diameters, GIVEN.at("loft's rule")),
        (None, None) => by(wish.belief.prior.common_bury, COMMON_PRACTICE.at("bury in diameters, no standard")),
    };
    if length <= Length::ZERO {
        return Err(SpliceError::NotAboveZero { what: "the bury", given: length });
    }
    let diameters = length / diameter;
    if !(5.0..=400.0).contains(&diameters) {
        return Err(SpliceError::OutOfRange { what: "the bury in diameters", given: diameters, low: 5.0, high: 400.0 });
    }
    working.push(step);
    Ok(length)
}

fn tail(request: &EndRequest, bury: f64, wish: &Wish) -> Result<Tail, SpliceError> {
    if request.taper != TaperWish::Chosen {
        return Ok(tail_for(request.taper, bury, wish.pick)?);
    }
    let wanted = match request.bury {
        Some(BuryWish::Margin(wanted)) => wanted,
        _ => 1.0,
    };
    // The bench braid stands for the rope; what the low end of the range has
    // less of grip is asked of it in addition.
    let slices = crate::taper::common(bury).slices();
    let needed = grip_needed(wish.rho);
    let sum = grip_sum(&wish.braid, &slices);
    let friction = wish.belief.span(|draw| draw.friction).usual;
    let low = wish.belief.span(|draw| draw.friction * grip_sum(&draw.braid, &slices)).low;
    let choice = Choice {
        braid: wish.braid,
        friction,
        mobilised: needed / sum,
        bury,
        pick: wish.pick,
        pairs: COMMON_PAIRS,
        cut: SLANT,
        wanted: wanted * friction * sum / low.max(1e-12),
        rho: wish.rho,
        per_radian: turn_penalty()?.per_radian,
    };
    match choose(&choice) {
        Ok((tail, _)) => Ok(tail),
        // Where nothing holds at the low end the taper is still laid out, and
        // the grip margin's own finding says stop.
        Err(TaperError::NoneHolds { .. }) => Ok(choose(&Choice { wanted: 0.0, ..choice })?.0),
        Err(error) => Err(error.into()),
    }
}

/// With its findings and working.
fn explained(mut bury: Bury, request: &EndRequest, slices: &[Slice]) -> Bury {
    let working = reasons::working(&bury, request, slices, bury.shape);
    bury.working.extend(working);
    let findings = reasons::findings(&bury, request);
    bury.findings.extend(findings);
    bury
}

/// Positions of a long-bury eye on the part that is buried.
#[derive(Debug, Clone, Copy)]
pub(crate) struct EyeMarks {
    pub throat_tail: Length,
    pub crown: Length,
    pub throat_standing: Length,
    pub tail_end: Length,
    pub puller: Length,
}

impl Bury {
    /// Positions of an eye's marks from the bitter end.
    pub fn eye_marks(&self, eye: &Eye) -> EyeMarks {
        let throat_tail = self.length;
        let throat_standing = throat_tail + eye.rope;
        let tail_end = throat_standing + self.length + self.shrinkage;
        EyeMarks {
            throat_tail,
            crown: throat_tail + eye.rope / 2.0,
            throat_standing,
            tail_end,
            puller: tail_end + self.lead,
        }
    }

    /// Marks of the tail's own taper.
    pub fn mark_tail(&self, sheet: &mut MarkSheet, part: Part) {
        mark_tail(sheet, part, &self.tail, self.diameter);
    }

    /// Marks of an eye made of this bury.
    pub fn mark_eye(&self, sheet: &mut MarkSheet, part: Part, eye: &Eye) -> EyeMarks {
        self.mark_tail(sheet, part);
        let at = self.eye_marks(eye);
        sheet.mark(part, "throat, tail side", at.throat_tail, Shape::ClosedBand);
        sheet.mark(part, "crown", at.crown, Shape::PlainBand);
        sheet.mark(part, "throat, standing side", at.throat_standing, Shape::ClosedBand);
        sheet.mark(part, "tail ends here", at.tail_end, Shape::BrokenBand);
        sheet.mark(part, "puller goes in", at.puller, Shape::Cross);
        at
    }

    /// The working of the gripping braid's size and shape alone.
    pub fn braid_steps(&self, request: &EndRequest) -> Vec<Step> {
        let mut steps = self.working.iter().take(1).cloned().collect::<Vec<_>>();
        steps.extend(reasons::shape(request, self.diameter, self.shape));
        steps
    }

    /// An end of a request with all that its buried tail settles.
    pub fn layout(&self, request: &EndRequest, minutes: f64) -> Layout {
        Layout {
            gripping_diameter: self.diameter,
            bury: Some(self.length),
            taper: self.taper_steps(),
            slanted_cut: self.slanted_cut(),
            puller_lead: Some(self.lead),
            shrinkage: self.shrinkage,
            tools: super::bench::BURY_TOOLS.to_vec(),
            grip: Some(self.grip(request)),
            findings: self.findings.clone(),
            working: self.working.clone(),
            ..Layout::of(request, super::bench::minutes(minutes))
        }
    }

    /// Strands taken out, from the throat to the tail's end.
    pub fn taper_steps(&self) -> Vec<TaperStep> {
        let mut steps = Vec::new();
        let mut first = Hand::Left;
        for (at, left) in self.tail.steps.iter().rev() {
            let position = self.diameter * *at;
            let pick = (position / self.pick).round() as u32;
            let at = position.nearest_mm();
            steps.push(TaperStep { at, pick, hand: first, strands_left: left + 1 });
            steps.push(TaperStep { at, pick, hand: first.other(), strands_left: *left });
            first = first.other();
        }
        steps
    }

    /// The slanted cut, where there is one.
    pub fn slanted_cut(&self) -> Option<Length> {
        (self.tail.cut > 0.0).then(|| self.diameter * self.tail.cut)
    }

    /// Its grip in the rope's own lengths.
    pub fn grip(&self, request: &EndRequest) -> Grip {
        let load = super::bench::setting_load(request);
        let service = self.service(request, load);
        let creep = service.as_ref().map(|state| self.diameter * state.end_slip);
        let mut grip = Grip::of(&self.hold, self.diameter, self.rho, creep, load);
        grip.at_loads = self.at_loads(request, &self.hold, &self.tail.slices());
        grip.passing = service.map_or_else(Vec::new, |state| passing(&state, self.diameter));
        grip
    }

    /// The margin at the working load, at the highest, and nearly slack.
    pub fn at_loads(&self, request: &EndRequest, hold: &Hold, slices: &[Slice]) -> Vec<LoadGrip> {
        let strength = request.rope.strength.force;
        let asked = LoadsRequest { belief: &self.belief, hold, slices, rho: self.rho, law: request.law, strength };
        let highest = request.peak.map_or(("listed strength", strength), |peak| ("peak load", peak));
        let loads =
            [("working load", super::bench::setting_load(request)), highest, ("nearly slack", strength * NEARLY_SLACK)];
        grip_at_loads(&asked, &loads)
    }

    /// The usual rope in service at a load; `None` where its stiffness was
    /// not read, or it does not hold.
    fn service(&self, request: &EndRequest, load: Force) -> Option<State> {
        let multiple = stiffness(request.rope)?.get()?;
        let strain = load / (request.rope.strength.force * multiple);
        if strain <= 0.0 {
            return None;
        }
        let grid = Grid::new(&self.braid, &self.tail.slices(), CELLS);
        let friction = self.hold.friction.usual;
        solve(&grid, Service { friction, rho: self.rho, strain, bedding: BEDDING_SLIP }).ok()
    }

    /// Its weak points, an eye's among them.
    pub fn weakness(&self, request: &EndRequest, eye: Option<&Eye>) -> Result<Weakness, SpliceError> {
        let asked = WeakRequest {
            fibre: request.rope.fibre,
            belief: &self.belief,
            braid: &self.braid,
            tail: &self.tail,
            rho: self.rho,
            diameter: self.diameter,
            eye,
        };
        let mut weakness = weakness(&asked)?;
        if request.lock == ThroatLock::FullLength {
            let point = full_length_point();
            if let Some(share) = point.share {
                weakness.share = share;
            }
            weakness.points.insert(0, point);
        }
        Ok(weakness)
    }
}

/// Marks of the taper of a tail in rope of a diameter.
pub(crate) fn mark_tail(sheet: &mut MarkSheet, part: Part, tail: &Tail, diameter: Length) {
    sheet.mark(part, "bitter end", Length::ZERO, Shape::PlainBand);
    if tail.cut > 0.0 {
        sheet.mark(part, "slanted cut begins", diameter * tail.cut, Shape::PlainBand);
    }
    let last = tail.steps.len().saturating_sub(1);
    for (index, (at, _)) in tail.steps.iter().enumerate() {
        let name = match index {
            index if index == last => "taper begins",
            0 => "last pair out",
            _ => "pair out",
        };
        sheet.mark(part, name, diameter * *at, Shape::Arrowhead);
    }
}

/// Load in the tail along the bury, at every tenth cell.
fn passing(state: &State, diameter: Length) -> Vec<(Length, f64)> {
    let middles = state.at.iter().zip(state.tail_load.windows(2));
    let mut curve = vec![(Length::ZERO, state.tail_load.first().copied().unwrap_or(0.0))];
    curve.extend(middles.step_by(10).map(|(at, pair)| (diameter * *at, (pair[0] + pair[1]) / 2.0)));
    curve
}

/// What an eye made of a bury adds to the cut length, with its working.
pub(crate) fn eye_rope_used(bury: &Bury, eye: &Eye) -> (Length, Step) {
    let used = bury.length + eye.rope + bury.shrinkage - eye.bearing_to_throat;
    let step =
        Step::new("rope used", "bury + rope in the eye + shrinkage - bearing point to throat", used, EXACT.at("sum"))
            .input("bury", bury.length)
            .input("rope in the eye", eye.rope)
            .input("shrinkage", bury.shrinkage)
            .input("bearing point to throat", eye.bearing_to_throat);
    (used, step)
}
