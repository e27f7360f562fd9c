//! One whole boat worked by hand: plain arithmetic, row by row, that shares
//! no code with the room `rig`.
//!
//! The sweep says only where each line is loaded worst (wind, angle, sails);
//! everything from there on is reckoned here from the dimensions, with the
//! coefficient rows typed a second time. `docs/a-boat-by-hand.md` is what this
//! prints; a test compares it with the file, and each load with `rig`'s.

use crate::hand_state::{Carried, Hand, Held};
use rig::{
    Boat, Conditions, Headsail, Hull, LineKind, Mainsail, Question, RigType, SailSet, Sails, Setup, Spinnaker,
    SpinnakerKind, Sweep,
};
use std::fmt::Write;
use units::{Area, Length, Mass, Moment, Speed};

/// A row: what, how, and the value with its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    what: String,
    formula: String,
    value: f64,
    unit: &'static str,
}

/// A sheet in the making.
#[derive(Debug, Default)]
pub struct Sheet {
    text: String,
    open: bool,
}

impl Sheet {
    pub(crate) fn heading(&mut self, level: &str, text: &str) {
        self.open = false;
        let _ = write!(self.text, "\n{level} {text}\n\n");
    }

    pub(crate) fn say(&mut self, text: &str) {
        self.open = false;
        let _ = writeln!(self.text, "{text}");
    }

    /// A row; gives its value back.
    pub(crate) fn row(&mut self, what: &str, formula: &str, value: f64, unit: &'static str) -> f64 {
        if !self.open {
            self.text.push_str("| what | how | value |\n|---|---|---|\n");
            self.open = true;
        }
        let row = Row { what: what.to_owned(), formula: formula.to_owned(), value, unit };
        let _ = writeln!(self.text, "| {} | {} | {} {} |", row.what, row.formula, digits(row.value), row.unit);
        value
    }
}

/// Six significant digits, without an exponent.
fn digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let decimals = (5 - value.abs().log10().floor() as i32).clamp(0, 8) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// The boat's figures, metres, newton metres, knots.
pub(crate) struct Figures {
    pub(crate) loa: f64,
    pub(crate) lwl: f64,
    pub(crate) draught: f64,
    pub(crate) freeboard: f64,
    pub(crate) moment: f64,
    pub(crate) i: f64,
    pub(crate) j: f64,
    pub(crate) p: f64,
    pub(crate) e: f64,
    pub(crate) isp: f64,
    pub(crate) bas: f64,
    pub(crate) reef: f64,
    pub(crate) main: f64,
    pub(crate) jib: f64,
    pub(crate) spinnaker: f64,
    pub(crate) upwind: f64,
    pub(crate) downwind: f64,
}

pub(crate) const BOAT: Figures = Figures {
    loa: 9.0,
    lwl: 8.0,
    draught: 1.8,
    freeboard: 1.0,
    moment: 18_000.0,
    i: 11.0,
    j: 3.2,
    p: 11.2,
    e: 3.9,
    isp: 12.0,
    bas: 1.4,
    reef: 1.6,
    main: 24.0,
    jib: 18.0,
    spinnaker: 60.0,
    upwind: 16.0,
    downwind: 18.0,
};

/// Lines worked: name, kind, parts of the purchases in series, the last this
/// line's own.
pub(crate) const LINES: [(&str, LineKind, &[u32]); 14] = [
    ("main halyard", LineKind::MainHalyard, &[1]),
    ("jib halyard", LineKind::JibHalyard, &[1]),
    ("spinnaker halyard", LineKind::SpinnakerHalyard, &[1]),
    ("mainsheet", LineKind::Mainsheet, &[4]),
    ("jib sheet", LineKind::JibSheet, &[1]),
    ("spinnaker sheet", LineKind::SpinnakerSheet, &[1]),
    ("tack line", LineKind::TackLine, &[1]),
    ("vang", LineKind::Vang, &[6]),
    ("outhaul", LineKind::Outhaul, &[2]),
    ("backstay adjuster", LineKind::BackstayAdjuster, &[2, 2, 4]),
    ("reef line", LineKind::ReefLineSlab, &[1]),
    ("traveller", LineKind::Traveller, &[2]),
    ("topping lift", LineKind::ToppingLift, &[1]),
    ("dock line", LineKind::DockLine, &[1]),
];

/// Share of tension left after a ball-bearing sheave.
const SHEAVE: f64 = 0.97;

/// The same boat for the room `rig`.
#[must_use]
pub fn question() -> Question {
    let m = |metres| Some(Length::of_m(metres));
    let area = |square| Some(Area::of_m2(square));
    let boat = Boat {
        lwl: m(BOAT.lwl),
        draught: m(BOAT.draught),
        freeboard: m(BOAT.freeboard),
        righting_moment: Some(Moment::of_n_m(BOAT.moment)),
        displacement: Some(Mass::of_kg(3200.0)),
        i: m(BOAT.i),
        j: m(BOAT.j),
        p: m(BOAT.p),
        e: m(BOAT.e),
        isp: m(BOAT.isp),
        bas: m(BOAT.bas),
        ..Boat::of_length(Length::of_m(BOAT.loa), Hull::Monohull, RigType::FractionalSloop)
    };
    let mut main = Mainsail { area: area(BOAT.main), reefs: Some(1), ..Mainsail::default() };
    main.reef_heights[0] = m(BOAT.reef);
    let sails = Sails {
        main: Some(main),
        jib: Some(Headsail { area: area(BOAT.jib), ..Headsail::default() }),
        spinnaker: Some(Spinnaker { kind: SpinnakerKind::Asymmetric, area: area(BOAT.spinnaker), mass: None }),
        ..Sails::default()
    };
    let conditions = Conditions {
        wind_upwind: Some(Speed::of_knots(BOAT.upwind)),
        wind_downwind: Some(Speed::of_knots(BOAT.downwind)),
        hand_pull: None,
    };
    Question::usual(boat, sails, conditions)
}

/// What a line is to the room `rig`.
#[must_use]
pub fn setup(kind: LineKind, parts: &[u32]) -> Setup {
    let (own, before) = parts.split_last().map_or((1, &[][..]), |(own, before)| (*own, before));
    Setup { parts: own, cascade: before.to_vec(), sheave_efficiency: SHEAVE, ..Setup::of(kind) }
}

/// A line's loads by hand, N: steady, hauling, peak.
#[derive(Debug, Clone, PartialEq)]
pub struct HandLoad {
    /// Its name.
    pub name: &'static str,
    /// Its kind.
    pub kind: LineKind,
    /// Parts of its purchases.
    pub parts: &'static [u32],
    /// Steady pull in each part.
    pub steady: f64,
    /// Pull at the fall, hauling.
    pub hauling: f64,
    /// Peak.
    pub peak: f64,
}

/// The document, and every load in it.
///
/// # Errors
/// When the sweep refuses a line.
pub fn document() -> Result<(String, Vec<HandLoad>), String> {
    let sweep = Sweep::of(question());
    let mut sheet = Sheet::default();
    introduction(&mut sheet);
    let mut known: Vec<Held> = Vec::new();
    let mut loads = Vec::new();
    for (name, kind, parts) in LINES {
        let found = sweep.line(&setup(kind, parts)).map_err(|fault| format!("{name}: {fault}"))?;
        let held = found.governing.map(|state| {
            let carried = Carried { knots: state.wind.to_knots(), degrees: state.angle.to_degrees(), set: state.set };
            if let Some(held) = known.iter().find(|held| held.carried == carried) {
                return held.clone();
            }
            let letter = char::from(b'A' + known.len() as u8);
            let held = Hand { sheet: &mut sheet, boat: &BOAT }.state(&carried, letter);
            known.push(held.clone());
            held
        });
        sheet.heading("##", &capital(name));
        match &held {
            Some(held) => sheet.say(&format!("Worst in state {}.\n", held.letter)),
            None => sheet.say("No sail loads it.\n"),
        }
        let load = Hand { sheet: &mut sheet, boat: &BOAT }.line(kind, held.as_ref());
        loads.push(purchase(&mut sheet, (name, kind, parts), load));
    }
    Ok((sheet.text, loads))
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn introduction(sheet: &mut Sheet) {
    sheet.text.push_str("# A boat by hand\n\n");
    sheet.say(
        "Every load of one invented boat with every step between, worked by plain\n\
         arithmetic that shares no code with the program. The program's sweep only says\n\
         in which wind, at which angle and under which sails each line is loaded worst.\n\
         `cargo run -p validation` writes this page; a test works it again and compares\n\
         each load with the program's.\n\n\
         She is a fractional sloop of 9 m with one reef. Sags, cambers and shares are\n\
         the usual values of the program's unpublished inputs.",
    );
    sheet.heading("##", "Given");
    let b = &BOAT;
    for (what, value) in [
        ("LOA", b.loa),
        ("LWL", b.lwl),
        ("draught", b.draught),
        ("freeboard", b.freeboard),
        ("I", b.i),
        ("J", b.j),
        ("P", b.p),
        ("E", b.e),
        ("ISP", b.isp),
        ("boom above deck", b.bas),
        ("reef", b.reef),
    ] {
        sheet.row(what, "given", value, "m");
    }
    for (what, value) in [("mainsail", b.main), ("jib", b.jib), ("asymmetric", b.spinnaker)] {
        sheet.row(what, "given", value, "m2");
    }
    sheet.row("righting moment at 30°", "given", b.moment, "N m");
    sheet.row("full sail carried upwind to", "given", b.upwind, "kn");
    sheet.row("full sail and spinnaker carried off the wind to", "given", b.downwind, "kn");
}

/// The purchase taken off, and the peak put on.
fn purchase(sheet: &mut Sheet, (name, kind, parts): (&'static str, LineKind, &'static [u32]), load: f64) -> HandLoad {
    let power: f64 = parts.iter().map(|parts| f64::from(*parts)).product();
    let mut steady = load;
    let mut hauling = load;
    if power > 1.0 {
        steady = sheet.row("steady pull in each part", "load / parts", load / power, "N");
        let advantage: f64 = parts
            .iter()
            .filter(|parts| **parts > 1)
            .map(|parts| SHEAVE * (1.0 - SHEAVE.powf(f64::from(*parts))) / (1.0 - SHEAVE))
            .product();
        sheet.row("advantage, hauling", "product of E (1 - E^n) / (1 - E), E 0.97", advantage, "");
        hauling = sheet.row("pull at the fall, hauling", "load / advantage", load / advantage, "N");
    }
    let factor = match kind {
        LineKind::SpinnakerHalyard | LineKind::SpinnakerSheet | LineKind::TackLine => 1.5,
        LineKind::DockLine => 2.0,
        _ => 1.3,
    };
    sheet.row(
        "peak factor",
        "measured for spinnakers, storm over working for dock lines, ours for the rest",
        factor,
        "",
    );
    let peak = sheet.row("peak", "factor x pull", factor * steady.max(hauling), "N");
    HandLoad { name, kind, parts, steady, hauling, peak }
}

/// Is a set of sails the reefed one?
pub(crate) const fn is_reefed(set: SailSet) -> bool {
    matches!(set, SailSet::Reefed(_))
}
