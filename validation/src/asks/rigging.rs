//! Sails, booms, stays, stability and lengths, by the room `rig`.

use super::{Answers, Entry, above_zero, number};
use crate::Trouble;
use crate::expected::Answer;
use crate::given::Given;
use rig::{
    Boat, Boom, Conditions, Edge, Hull, LineKind, RigType, RuleInput, Sails, Setup, TAPERED_SAG_AT, chord_pull_share,
    edge_end_tension, edge_tension, guy, length_by_rule, line_load, righting, stay_balance, tapered_edge_tension,
    three_corners,
};
use units::{Force, Length};

pub(super) const ENTRIES: &[Entry] = &[
    ("chord-pull", "rig", chord_pull),
    ("edge-tension", "rig", edge),
    ("boom", "rig", boom),
    ("stay-balance", "rig", stays),
    ("pole-end", "rig", pole_end),
    ("three-lines", "rig", three_lines),
    ("righting-moment", "rig", stability),
    ("length-by-rule", "rig", length),
    ("ground-tackle-load", "rig", ground_tackle),
    ("peak-over-steady", "rig", peak),
    ("hanging-line", "rig", hanging),
    ("lifting-wind", "rig", lifting),
    ("inland-minimum", "rig", inland),
    ("gaff", "rig", gaff),
    ("car-push", "rig", car),
];

fn hanging(given: &Given) -> Result<Answers, Trouble> {
    let hung = rig::hang(&rig::Hanging {
        span: given.length("span")?,
        rise: given.length("rise")?,
        length: given.length("length")?,
        linear_density: given.linear_density("linear_density")?,
    })
    .map_err(Trouble::refused)?;
    Ok(vec![
        ("across", number(hung.across)),
        ("clew_down", number(hung.clew_down)),
        ("block_down", number(hung.block_down)),
        ("clew_tension", number(hung.clew_tension())),
        ("sag", number(hung.sag)),
    ])
}

fn inland(given: &Given) -> Result<Answers, Trouble> {
    let line = match given.text("line")? {
        "staysail-halyard" => rig::InlandLine::StaysailHalyard,
        "gaff-halyard" => rig::InlandLine::GaffHalyard,
        "staysail-sheet" => rig::InlandLine::StaysailSheet,
        "gaff-sheet" => rig::InlandLine::GaffSheet,
        other => return Err(Trouble::malformed(format!("{other:?} is no line of the rules"))),
    };
    let material = match given.text("material")? {
        "wire" => rig::InlandMaterial::Wire,
        "polypropylene" => rig::InlandMaterial::Polypropylene,
        other => return Err(Trouble::malformed(format!("{other:?} is no material of the rules"))),
    };
    let found = rig::inland_minimum(line, material, given.area("area")?).ok_or_else(|| Trouble::refused("no row"))?;
    let mut answers = vec![("diameter", number(found.diameter)), ("sheaves", Answer::Count(i64::from(found.sheaves)))];
    answers.extend(found.strength.map(|strength| ("strength", number(strength))));
    Ok(answers)
}

fn gaff(given: &Given) -> Result<Answers, Trouble> {
    let gaff = rig::GaffRig {
        gaff: given.angle("gaff")?,
        leech_off_upright: given.angle("leech")?,
        bridle: given.ratio("bridle")?,
        halyard_off_gaff: given.angle("halyard")?,
    };
    let pull = given.force("leech_tension")?;
    Ok(vec![("peak", number(gaff.peak(pull))), ("throat", number(gaff.throat(given.force("luff")?, pull)))])
}

fn car(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("push", number(rig::car_push(given.force("sheet")?, given.angle("turn")?)))])
}

fn lifting(given: &Given) -> Result<Answers, Trouble> {
    let lift = rig::Lift {
        coefficient: given.ratio("coefficient")?,
        area: given.area("area")?,
        clew_share: given.ratio("clew_share")?,
    };
    Ok(vec![("wind", number(rig::lifting_wind(given.force("clew_down")?, &lift)))])
}

fn chord_pull(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("share", number(chord_pull_share(given.ratio("camber")?)))])
}

fn edge(given: &Given) -> Result<Answers, Trouble> {
    let edge = Edge {
        pressure: given.pressure("pressure")?,
        chord: given.length("chord")?,
        length: given.length("length")?,
        sag: given.ratio("sag")?,
    };
    Ok(vec![
        ("tension", number(edge_tension(&edge))),
        ("end_tension", number(edge_end_tension(&edge))),
        ("tapered_tension", number(tapered_edge_tension(&edge))),
        ("tapered_sag_at", number(edge.length * TAPERED_SAG_AT)),
    ])
}

fn boom(given: &Given) -> Result<Answers, Trouble> {
    let boom = Boom { luff: given.length("luff")?, foot: given.length("foot")?, leech: given.force("leech")? };
    let mut answers = vec![("outhaul", number(boom.outhaul(Force::ZERO)))];
    answers.push(("reef_clew", number(boom.reef_clew(Force::ZERO))));
    if given.has("sheet_at") {
        answers.push(("sheet", number(boom.sheet(above_zero(given.length("sheet_at")?, "the sheet's place")?))));
    }
    if given.has("vang_along") {
        let along = above_zero(given.length("vang_along")?, "the vang's place")?;
        answers.push(("vang", number(boom.vang(along, given.length("vang_down")?))));
    }
    Ok(answers)
}

fn stays(given: &Given) -> Result<Answers, Trouble> {
    let aft = stay_balance(given.force("fore_tension")?, given.angle("fore")?, given.angle("aft")?);
    Ok(vec![("aft_tension", number(aft))])
}

fn pole_end(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("guy", number(guy(given.force("tack_pull")?, given.angle("tack")?, given.angle("guy")?)))])
}

/// Three lines of equal slant spaced evenly round a vertical pull.
fn three_lines(given: &Given) -> Result<Answers, Trouble> {
    let slant = given.angle("slant")?;
    let at = |turn: f64| [slant.sin() * turn.cos(), slant.sin() * turn.sin(), -slant.cos()];
    let third = 2.0 * std::f64::consts::PI / 3.0;
    let pulls = three_corners(given.force("pull")?, [0.0, 0.0, 1.0], [at(0.0), at(third), at(2.0 * third)]);
    Ok(vec![("each", number(pulls.map_err(Trouble::refused)?[1]))])
}

fn boat(given: &Given) -> Result<Boat, Trouble> {
    let loa = if given.has("loa") { given.length("loa")? } else { Length::of_m(10.0) };
    let mut boat = Boat::of_length(above_zero(loa, "the length overall")?, Hull::Monohull, RigType::FractionalSloop);
    let dimension = |name: &str| given.has(name).then(|| given.length(name)).transpose();
    boat.lwl = dimension("lwl")?;
    boat.beam = dimension("beam")?;
    boat.p = dimension("p")?;
    boat.e = dimension("e")?;
    boat.bas = dimension("bas")?;
    boat.displacement = given.has("displacement").then(|| given.mass("displacement")).transpose()?;
    Ok(boat)
}

fn stability(given: &Given) -> Result<Answers, Trouble> {
    let boat = boat(given)?;
    if boat.lwl.is_some_and(|lwl| lwl <= Length::ZERO) {
        return Err(Trouble::refused("no waterline"));
    }
    let found = righting(&boat);
    let warned = found.findings.iter().any(|finding| finding.code == "stability-outside-graph");
    Ok(vec![("moment", number(found.moment)), ("warned", super::word(if warned { "yes" } else { "no" }))])
}

fn kind(given: &Given) -> Result<LineKind, Trouble> {
    let word = given.text("line")?;
    LineKind::from_word(word).ok_or_else(|| Trouble::malformed(format!("{word:?} is no kind of line")))
}

fn length(given: &Given) -> Result<Answers, Trouble> {
    let rule = RuleInput {
        kind: kind(given)?,
        mast: rig::Mast::Main,
        parts: given.tally("parts")?,
        tail: given.has("tail").then(|| given.length("tail")).transpose()?,
    };
    let (length, _) = length_by_rule(&boat(given)?, &rule).ok_or_else(|| Trouble::refused("no rule"))?;
    Ok(vec![("length", number(length))])
}

fn setup(kind: LineKind) -> Setup {
    Setup { sheave_efficiency: 1.0, ..Setup::of(kind) }
}

fn ground_tackle(given: &Given) -> Result<Answers, Trouble> {
    let boat = boat(given)?;
    let load = line_load(&boat, &Sails::default(), &conditions(), &setup(LineKind::AnchorRode));
    Ok(vec![("steady", number(load.map_err(Trouble::refused)?.steady))])
}

fn conditions() -> Conditions {
    Conditions { wind_upwind: None, wind_downwind: None, hand_pull: None }
}

/// Peak over steady of a spinnaker's sheet or halyard, on a boat of any size.
fn peak(given: &Given) -> Result<Answers, Trouble> {
    let spinnaker =
        rig::Spinnaker { kind: rig::SpinnakerKind::Asymmetric, area: Some(given.area("area")?), mass: None };
    let sails = Sails { spinnaker: Some(spinnaker), ..Sails::default() };
    let load = line_load(&boat(given)?, &sails, &conditions(), &setup(kind(given)?)).map_err(Trouble::refused)?;
    Ok(vec![("peak_over_steady", number(load.peak / load.steady))])
}
