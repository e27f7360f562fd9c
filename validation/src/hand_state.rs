//! States and lines of the boat by hand: see [`crate::by_hand`].

use crate::by_hand::{Figures, Sheet, is_reefed};
use rig::{LineKind, SailSet};
use std::f64::consts::PI;

/// Where a line is loaded worst.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Carried {
    pub(crate) knots: f64,
    pub(crate) degrees: f64,
    pub(crate) set: SailSet,
}

/// A sail in a state: area, leech, chord, luff, foot, head angle, force,
/// pressure, and the force's drive and side coefficients.
#[derive(Debug, Clone, Default)]
pub(crate) struct Sail {
    area: f64,
    centre: f64,
    luff: f64,
    foot: f64,
    leech: f64,
    head: f64,
    pressure: f64,
    force: f64,
    drive: f64,
    side: f64,
}

/// A state worked out.
#[derive(Debug, Clone)]
pub(crate) struct Held {
    pub(crate) letter: char,
    pub(crate) carried: Carried,
    main: Sail,
    other: Sail,
}

/// A hand with a sheet.
pub(crate) struct Hand<'a> {
    pub(crate) sheet: &'a mut Sheet,
    pub(crate) boat: &'a Figures,
}

type Rows = &'static [[f64; 3]];

// ORC 2023 as read in transcriptions, typed here a second time.
const MAIN: Rows = &[
    [0.0, 0.0, 0.0431],
    [7.0, 0.86207, 0.02586],
    [9.0, 1.05172, 0.02328],
    [12.0, 1.16379, 0.02328],
    [28.0, 1.34698, 0.03259],
    [60.0, 1.35345, 0.11302],
    [90.0, 1.26724, 0.3825],
    [120.0, 0.93103, 0.96888],
    [150.0, 0.38793, 1.31578],
    [180.0, -0.11207, 1.34483],
];
const JIB: Rows = &[
    [7.0, 0.0, 0.05],
    [15.0, 1.0, 0.032],
    [20.0, 1.375, 0.031],
    [27.0, 1.45, 0.037],
    [50.0, 1.45, 0.25],
    [60.0, 1.25, 0.35],
    [100.0, 0.4, 0.73],
    [150.0, 0.0, 0.95],
    [180.0, -0.1, 0.9],
];
const ASYMMETRIC: Rows = &[
    [28.0, 0.01738, 0.15405],
    [41.0, 0.69825, 0.23925],
    [50.0, 0.89933, 0.30877],
    [60.0, 1.04, 0.38852],
    [67.0, 1.072, 0.43624],
    [75.0, 1.075, 0.47713],
    [100.0, 0.985, 0.5453],
    [115.0, 0.805, 0.56574],
    [130.0, 0.372, 0.475],
    [150.0, 0.1, 0.352],
    [170.0, 0.02, 0.29],
    [180.0, 0.0, 0.262],
];

/// Boat speed over hull speed, by true wind angle.
const WAY: &[[f64; 2]] = &[[35.0, 0.72], [42.0, 0.80], [60.0, 0.95], [90.0, 1.0], [160.0, 1.0], [180.0, 0.9]];

const KNOT: f64 = 1852.0 / 3600.0;

fn line_between(low: f64, high: f64, at: f64, from: f64, to: f64) -> f64 {
    from + (to - from) * (at - low) / (high - low)
}

fn read(rows: Rows, at: f64) -> (f64, f64) {
    let above = rows.iter().position(|row| row[0] >= at).unwrap_or(rows.len() - 1).max(1);
    let (low, high) = (rows[above - 1], rows[above]);
    (line_between(low[0], high[0], at, low[1], high[1]), line_between(low[0], high[0], at, low[2], high[2]))
}

fn way(at: f64) -> f64 {
    let above = WAY.iter().position(|row| row[0] >= at).unwrap_or(WAY.len() - 1).max(1);
    let (low, high) = (WAY[above - 1], WAY[above]);
    line_between(low[0], high[0], at, low[1], high[1])
}

/// One sail in one round: wind felt, its angle, lift, drag, what it heels by.
struct Felt {
    angle: f64,
    lift: f64,
    drag: f64,
    load: f64,
    still: f64,
    lifting: f64,
}

impl Hand<'_> {
    /// A whole state: sails, wind and heel together, pressures.
    pub(crate) fn state(&mut self, carried: &Carried, letter: char) -> Held {
        let kite = carried.set == SailSet::Spinnaker;
        let name =
            format!("State {letter}: {:.4} kn at {:.0}°, {}", carried.knots, carried.degrees, carried.set.words());
        self.sheet.heading("##", &name);
        let (mut main, mut other) = self.sails(carried, kite);
        let hull = 1.34 * (self.boat.lwl / 0.3048).sqrt();
        self.sheet.row("hull speed", "1.34 √LWL, feet and knots", hull, "kn");
        let share = self.sheet.row("share of it", "rows of boat speed by true wind angle", way(carried.degrees), "");
        let knots = self.sheet.row("boat speed", "hull speed x share", hull * share, "kn");
        let arm = self.boat.freeboard + 0.45 * self.boat.draught;
        self.sheet.row("arm below the deck", "freeboard + 0.45 draught", arm, "m");
        let mast = self.boat.p + self.boat.bas;
        let fraction = (self.boat.i / mast).min(1.0);
        let drop = if kite { 0.0 } else { 0.406 + 0.902 * (1.0 - fraction) };
        self.sheet.row(
            "fall of the centres when flat",
            "0.406 + 0.902 (1 - I / (P + boom)); none under spinnaker",
            drop,
            "",
        );
        let (mut heel, mut flat, mut allowed) = (0.0f64, 1.0, 1.0);
        let mut felt = [None, None];
        for round in 1..=4 {
            self.sheet.heading("###", &format!("Round {round}"));
            self.sheet.row("heel going in", "", heel.to_degrees(), "°");
            felt = [
                Some(self.feel("mainsail", &main, MAIN, (carried, knots, heel))),
                Some(if kite {
                    self.feel("spinnaker", &other, ASYMMETRIC, (carried, knots, heel))
                } else {
                    self.feel("jib", &other, JIB, (carried, knots, heel))
                }),
            ];
            let moment = |flat: f64| -> f64 {
                [(&felt[0], &main), (&felt[1], &other)]
                    .into_iter()
                    .filter_map(|(felt, sail)| felt.as_ref().map(|felt| (felt, sail)))
                    .map(|(felt, sail)| {
                        let height = sail.centre * (1.0 - drop) + arm + flat * sail.centre * drop;
                        (felt.still + flat * felt.lifting) * height
                    })
                    .sum()
            };
            let full =
                self.sheet.row("heeling moment, full lift", "sum of side force x (centre + arm)", moment(1.0), "N m");
            (flat, allowed) = flattened(&moment, full, self.boat.moment);
            self.sheet.row("lift left on", "until heeling = righting, at least 0.42", flat, "");
            self.sheet.row("pressure left on", "then righting / heeling", allowed, "");
            let now = (moment(flat) * allowed / self.boat.moment).clamp(0.0, 1.0);
            heel = (30.0 * now).to_radians();
            self.sheet.row("heel", "30° x heeling / righting", heel.to_degrees(), "°");
        }
        self.sheet.heading("###", "Forces");
        for (sail, felt, name) in
            [(&mut main, &felt[0], "mainsail"), (&mut other, &felt[1], if kite { "spinnaker" } else { "jib" })]
        {
            let Some(felt) = felt else { continue };
            let (lift, drag) = (felt.lift * flat, felt.drag);
            let size = lift.hypot(drag);
            self.sheet.row(&format!("{name}: whole coefficient"), "√((flat x lift)² + drag²)", size, "");
            sail.pressure = felt.load / sail.area * size * allowed;
            self.sheet.row(
                &format!("{name}: pressure on the cloth"),
                "q x coefficient x pressure left",
                sail.pressure,
                "Pa",
            );
            sail.force = sail.pressure * sail.area;
            self.sheet.row(&format!("{name}: force"), "pressure x area", sail.force, "N");
            sail.drive = lift * felt.angle.sin() - drag * felt.angle.cos();
            sail.side = lift * felt.angle.cos() + drag * felt.angle.sin();
        }
        Held { letter, carried: carried.clone(), main, other }
    }

    /// Areas, centres and edges.
    fn sails(&mut self, carried: &Carried, kite: bool) -> (Sail, Sail) {
        let b = self.boat;
        let left = if is_reefed(carried.set) { (b.p - b.reef) / b.p } else { 1.0 };
        if left < 1.0 {
            self.sheet.row("part of the luff left", "(P - reef) / P", left, "");
        }
        let mut main = Sail {
            area: b.main * left * left,
            centre: b.p * 0.39 * left + b.bas,
            luff: b.p * left,
            foot: b.e * left,
            head: (b.e / b.p).atan(),
            ..Sail::default()
        };
        main.leech = main.luff.hypot(main.foot);
        self.sheet.row("mainsail: area", "area x left²", main.area, "m2");
        self.sheet.row("mainsail: centre above deck", "0.39 P left + boom above deck", main.centre, "m");
        self.sheet.row("mainsail: leech", "hypot(luff, foot)", main.leech, "m");
        let other = if kite {
            let luff = 0.95 * b.isp.hypot(b.j);
            self.sheet.row("spinnaker: centre above deck", "0.565 ISP", 0.565 * b.isp, "m");
            Sail { area: b.spinnaker, centre: 0.565 * b.isp, luff, leech: luff, ..Sail::default() }
        } else {
            let stay = b.i.hypot(b.j);
            let luff = stay * left;
            let sail = Sail {
                area: b.jib * left * left,
                centre: 0.39 * b.i * left,
                luff,
                leech: 0.95 * luff,
                head: (1.05 * b.j / stay).atan(),
                ..Sail::default()
            };
            self.sheet.row("jib: area", "area x left²", sail.area, "m2");
            self.sheet.row("jib: centre above deck", "0.39 I left", sail.centre, "m");
            self.sheet.row("jib: leech", "0.95 hypot(I, J) left", sail.leech, "m");
            sail
        };
        (main, other)
    }

    /// What one sail feels.
    fn feel(&mut self, name: &str, sail: &Sail, rows: Rows, (carried, knots, heel): (&Carried, f64, f64)) -> Felt {
        let of = |what: &str| format!("{name}: {what}");
        let height = sail.centre + self.boat.freeboard;
        let share = (height / 0.005).ln() / (10.0f64 / 0.005).ln();
        let wind = self.sheet.row(
            &of("wind at its centre"),
            "wind x ln(h / 5 mm) / ln(10 m / 5 mm)",
            carried.knots * share,
            "kn",
        );
        let twa = carried.degrees * PI / 180.0;
        let ahead = wind * twa.cos() + knots;
        let across = wind * twa.sin() * heel.cos();
        let speed = self.sheet.row(
            &of("apparent wind"),
            "hypot(wind cos + way, wind sin x cos heel)",
            ahead.hypot(across),
            "kn",
        );
        let angle = across.atan2(ahead);
        self.sheet.row(&of("its angle"), "", angle.to_degrees(), "°");
        let (lift, drag) = read(rows, angle.to_degrees());
        self.sheet.row(&of("lift"), "between rows", lift, "");
        self.sheet.row(&of("drag"), "between rows", drag, "");
        let q = self.sheet.row(&of("q"), "1.225 V² / 2", 0.5 * 1.225 * (speed * KNOT) * (speed * KNOT), "Pa");
        let load = q * sail.area;
        let (still, lifting) = (load * drag * angle.sin(), load * lift * angle.cos());
        self.sheet.row(&of("side force"), "q A (lift cos + drag sin)", still + lifting, "N");
        Felt { angle, lift, drag, load, still, lifting }
    }

    /// One line's load, before any purchase.
    pub(crate) fn line(&mut self, kind: LineKind, held: Option<&Held>) -> f64 {
        let Some(held) = held else { return self.without_sail(kind) };
        match kind {
            LineKind::JibHalyard => self.halyard(&held.other),
            LineKind::JibSheet => {
                let force = held.other.force;
                self.sheet.row("sheet", "F / (8 x 0.11)", force / 0.88, "N")
            }
            LineKind::BackstayAdjuster => self.backstay(&held.other),
            LineKind::SpinnakerHalyard => self.corners(&held.other)[0],
            LineKind::TackLine => self.corners(&held.other)[1],
            LineKind::SpinnakerSheet => self.corners(&held.other)[2],
            LineKind::MainHalyard => self.halyard(&held.main),
            _ => self.boom(kind, &held.main),
        }
    }

    fn leech(&mut self, sail: &Sail) -> f64 {
        let chord = self.sheet.row("mean chord", "area / leech", sail.area / sail.leech, "m");
        let load = self.sheet.row("side load on the leech", "pressure x chord / 2", sail.pressure * chord / 2.0, "N/m");
        self.sheet.row("leech tension", "load x leech / (8 x 0.09)", load * sail.leech / 0.72, "N")
    }

    fn halyard(&mut self, sail: &Sail) -> f64 {
        let leech = self.leech(sail);
        let luff = self.sheet.row("luff tension", "0.75 leech", 0.75 * leech, "N");
        self.sheet.row("head angle", "foot over luff", sail.head.to_degrees(), "°");
        self.sheet.row("halyard", "luff + leech cos(head angle)", luff + leech * sail.head.cos(), "N")
    }

    fn boom(&mut self, kind: LineKind, sail: &Sail) -> f64 {
        let leech = self.leech(sail);
        let b =
            self.sheet.row("leech off the boom", "atan(luff / foot)", (sail.luff / sail.foot).atan().to_degrees(), "°");
        let b = b.to_radians();
        let lifts = self.sheet.row("boom's end lifted by", "leech sin b", leech * b.sin(), "N");
        match kind {
            LineKind::Mainsheet => self.sheet.row("mainsheet at the boom's end", "the same", lifts, "N"),
            LineKind::Traveller => {
                self.sheet.row("traveller", "mainsheet x sin 20°", lifts * (20.0f64).to_radians().sin(), "N")
            }
            LineKind::Vang => {
                let along = self.sheet.row("vang along the boom", "0.33 E", 0.33 * self.boat.e, "m");
                let down = self.sheet.row("vang down the mast", "0.8 of the boom's height", 0.8 * self.boat.bas, "m");
                let arm = self.sheet.row(
                    "vang's arm about the gooseneck",
                    "along x down / hypot",
                    along * down / along.hypot(down),
                    "m",
                );
                self.sheet.row("vang", "lift x foot / arm", lifts * sail.foot / arm, "N")
            }
            _ => {
                let foot = self.sheet.row("foot tension", "0.25 F / (8 x 0.11)", 0.25 * sail.force / 0.88, "N");
                let out = self.sheet.row("pull along the boom", "leech cos b + foot", leech * b.cos() + foot, "N");
                if kind == LineKind::Outhaul {
                    return out;
                }
                self.sheet.row(
                    "reef line, doubled through the clew",
                    "hypot(lift, along) / 2",
                    lifts.hypot(out) / 2.0,
                    "N",
                )
            }
        }
    }

    fn backstay(&mut self, jib: &Sail) -> f64 {
        let b = self.boat;
        let chord = self.sheet.row("jib's mean chord", "area / leech", jib.area / jib.leech, "m");
        let stay = b.i.hypot(b.j);
        let tension = self.sheet.row(
            "forestay",
            "(pressure x chord / 2) hypot(I, J) / (8 x 0.01)",
            jib.pressure * chord / 2.0 * stay / 0.08,
            "N",
        );
        let top = self.sheet.row("backstay's height", "P + boom above deck, at least I", (b.p + b.bas).max(b.i), "m");
        let base = self.sheet.row("backstay's base", "LOA - J", b.loa - b.j, "m");
        // Moments about the mast's foot: each stay's pull across times its height.
        let moment = self.sheet.row(
            "forestay's moment about the mast's foot",
            "forestay x J / stay x I",
            tension * b.j / stay * b.i,
            "N m",
        );
        let across = base / base.hypot(top);
        self.sheet.row("backstay", "moment / (base / length x height)", moment / (across * top), "N")
    }

    /// The three corners by Gauss, sail to leeward of its lines.
    fn corners(&mut self, sail: &Sail) -> [f64; 3] {
        let flat = sail.drive.hypot(sail.side);
        let pull = [-sail.drive, sail.side, 0.15 * flat];
        let size = (pull[0] * pull[0] + pull[1] * pull[1] + pull[2] * pull[2]).sqrt();
        let back = [sail.drive / flat, -sail.side / flat];
        let lean = |degrees: f64, up: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            [back[0] * sin, back[1] * sin, up * cos]
        };
        let turn = |v: [f64; 3], degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            [v[0] * cos - v[1] * sin, v[0] * sin + v[1] * cos, v[2]]
        };
        let halyard = lean(35.0, 1.0);
        let tack = turn(lean(30.0, -1.0), -45.0);
        let (sin, cos) = 25.0f64.to_radians().sin_cos();
        let sheet = turn([back[0] * cos, back[1] * cos, -sin], 20.0);
        for (name, v) in [("halyard", halyard), ("tack line", tack), ("sheet", sheet)] {
            for (axis, part) in ["aft", "to leeward", "up"].iter().zip(v) {
                self.sheet.row(
                    &format!("{name}'s direction, {axis}"),
                    "leans 35°, 30° and 25°; turned -45° and 20°",
                    part,
                    "",
                );
            }
        }
        let wanted = pull.map(|part| -part / size * sail.force);
        let pulls = gauss([halyard, tack, sheet], wanted);
        for (name, pull) in ["at the head", "at the tack", "at the clew"].iter().zip(pulls) {
            self.sheet.row(&format!("pull {name}"), "three equations", pull, "N");
        }
        pulls
    }

    fn without_sail(&mut self, kind: LineKind) -> f64 {
        let b = self.boat;
        if kind == LineKind::DockLine {
            let feet = self.sheet.row("LOA", "", b.loa / 0.3048, "ft");
            // Rows of 25 ft, 490 lbf, and 30 ft, 700 lbf.
            let pounds = line_between(25.0, 30.0, feet, 490.0, 700.0);
            let pounds =
                self.sheet.row("design load, 30 kn", "between 25 ft, 490 lbf and 30 ft, 700 lbf", pounds, "lbf");
            return self.sheet.row("load", "x 4.4482216", pounds * 4.448_221_615_260_5, "N");
        }
        let sail = self.sheet.row("mainsail's mass", "0.4 kg/m2 x 0.55 P E", 0.4 * 0.55 * b.p * b.e, "kg");
        let boom = self.sheet.row("boom's mass", "4 kg/m x E", 4.0 * b.e, "kg");
        let sin = b.p / b.p.hypot(b.e);
        self.sheet.row("topping lift", "half the weight / sin b", 0.5 * (sail + boom) * 9.80665 / sin, "N")
    }
}

/// Share of lift, then of pressure, that she bears.
fn flattened(moment: &dyn Fn(f64) -> f64, full: f64, bears: f64) -> (f64, f64) {
    if full <= bears {
        return (1.0, 1.0);
    }
    if moment(0.42) > bears {
        return (0.42, bears / moment(0.42));
    }
    // Regula falsi: another road than halving.
    let (mut low, mut high) = (0.42, 1.0);
    for _ in 0..200 {
        let middle = low + (bears - moment(low)) * (high - low) / (moment(high) - moment(low));
        if moment(middle) > bears { high = middle } else { low = middle }
    }
    (if (moment(low) - bears).abs() < (moment(high) - bears).abs() { low } else { high }, 1.0)
}

/// Three equations: columns times pulls = right side.
fn gauss(columns: [[f64; 3]; 3], right: [f64; 3]) -> [f64; 3] {
    let mut rows = [0, 1, 2].map(|row| [columns[0][row], columns[1][row], columns[2][row], right[row]]);
    for at in 0..3 {
        let best = (at..3).max_by(|a, b| rows[*a][at].abs().total_cmp(&rows[*b][at].abs())).unwrap_or(at);
        rows.swap(at, best);
        for row in 0..3 {
            if row != at {
                let pivot = rows[at];
                let factor = rows[row][at] / pivot[at];
                for (cell, above) in rows[row].iter_mut().zip(pivot) {
                    *cell -= factor * above;
                }
            }
        }
    }
    [0, 1, 2].map(|row| rows[row][3] / rows[row][row])
}
