//! Invented cards and plans for tests: a long-bury eye and a whipped end, two
//! eyes with an overruled stop, a refusal, hostile text, a cut plan.

#![allow(missing_docs, reason = "facts for tests explain themselves")]

use drawing::*;
use sheets::*;
pub fn mark(number: u32, name: &str, at: f64, shape: MarkShape) -> Mark {
    Mark { number, on: On::Rope, name: name.into(), from_bitter_end_mm: at, at_text: format!("{at}\u{2009}mm"), shape }
}
pub fn braid(d: f64, bury: f64, pin: f64) -> RopeEnd {
    let eye = 137.0;
    let t = (bury / 3.0).round();
    let s = [(t, 10), ((t * 0.75).round(), 8), ((t * 0.5).round(), 6)];
    RopeEnd {
        rope_diameter_mm: d,
        look: Look::Braid,
        stretches: vec![
            Stretch::new(What::TaperInside, 0.0, t),
            Stretch::new(What::TailInside, t, bury),
            Stretch::new(What::Length, 0.0, bury).labelled(format!("bury {bury}\u{2009}mm")),
            Stretch::new(What::Eye, bury, bury + eye).labelled("eye 137\u{2009}mm"),
        ],
        made_up: vec![
            Stretch::new(What::TailInside, 0.0, bury - t),
            Stretch::new(What::TaperInside, bury - t, bury).labelled(format!("taper {t}\u{2009}mm")),
            Stretch::new(What::Stitching, 1.0 * d, 7.0 * d).labelled("lock stitch"),
            Stretch::new(What::Whipping, 3.0, 9.0),
        ],
        eye: Some(Eye { length_mm: 60.0, pin_mm: pin }),
        marks: vec![
            mark(1, "bitter end", 0.0, MarkShape::Line),
            mark(2, "third pair out", s[2].0, MarkShape::Arrowhead),
            mark(3, "second pair out", s[1].0, MarkShape::Arrowhead),
            mark(4, "first pair out", s[0].0, MarkShape::Arrowhead),
            mark(5, "throat, tail side", bury, MarkShape::ClosedBand),
            mark(6, "throat, standing side", bury + eye, MarkShape::ClosedBand),
            mark(7, "buried end lies here", bury * 2.0 + eye + 25.0, MarkShape::BrokenBand),
            mark(8, "puller goes in", bury * 2.0 + eye + 65.0, MarkShape::Cross),
        ],
        taper: Some(Taper {
            strands: 12,
            steps: s
                .iter()
                .map(|(a, n)| TaperStep {
                    from_bitter_end_mm: *a,
                    words: format!("one of each hand, {n} stay"),
                    strands_left: *n,
                })
                .collect(),
            slanted_cut_mm: 4.0 * d,
        }),
    }
}
fn h(n: &str, v: &str) -> Headline {
    Headline { name: n.into(), value: v.into() }
}
fn eye_end(name: &str) -> EndCard {
    EndCard {
        name: name.into(),
        kind: "long-bury eye on a 12\u{2009}mm pin".into(),
        headlines: vec![
            h("bury", "720\u{2009}mm"),
            h("eye, bearing point to throat", "60\u{2009}mm"),
            h("rope used", "857\u{2009}mm"),
            h("shrinkage", "25\u{2009}mm"),
        ],
        layout: braid(10.0, 720.0, 12.0),
        steps: [
            "Tape the rope 20 mm from the cut and cut square.",
            "Set out marks 1 to 8 from the bitter end with the strip, rope at 150 N.",
            "At marks 4, 3 and 2 take out one pair, one strand of each hand; cut the rest on a slant over 40 mm.",
            "Open the braid at mark 8 and push the puller in towards mark 6.",
            "Bring the tail in at mark 6, draw it through until mark 5 meets mark 6.",
            "Milk the braid from the throat towards mark 7 until the tail disappears.",
            "Check that the buried end lies at mark 7.",
            "Set the splice at 2 kN for 60 s, then measure at 150 N.",
            "Lock-stitch from 10 mm to 70 mm past the throat, both planes.",
            "Whip the throat over 6 mm.",
        ]
        .iter()
        .map(|s| (*s).into())
        .collect(),
        phases: [("before the tail goes in", 4), ("tail in and milked", 3), ("set", 1), ("finish", 2)]
            .iter()
            .map(|(name, steps)| Phase { name: (*name).into(), steps: *steps })
            .collect(),
        before: vec!["the fitting goes on the tail".into()],
        tools: ["knife", "tape", "puller 8 mm", "needle", "1 mm waxed twine, 1.2 m"]
            .iter()
            .map(|s| (*s).into())
            .collect(),
        time: "35 min".into(),
    }
}
fn whipped(name: &str) -> EndCard {
    EndCard {
        name: name.into(),
        kind: "whipped end".into(),
        headlines: vec![h("whipping", "15\u{2009}mm")],
        layout: RopeEnd {
            rope_diameter_mm: 10.0,
            look: Look::Braid,
            stretches: vec![Stretch::new(What::Whipping, 5.0, 20.0)],
            made_up: vec![Stretch::new(What::Whipping, 5.0, 20.0).labelled("whipping 15\u{2009}mm")],
            eye: None,
            marks: vec![],
            taper: None,
        },
        phases: vec![],
        before: vec![],
        steps: vec![
            "Heat-seal the end and let it cool.".into(),
            "Whip over 15 mm, starting 5 mm from the end; draw tight.".into(),
        ],
        tools: vec!["hot knife".into(), "1 mm waxed twine, 0.8 m".into()],
        time: "10 min".into(),
    }
}
pub fn long_bury() -> BenchCard {
    BenchCard {
        order: "order 2041".into(),
        boat: "Kittiwake".into(),
        customer: "A. Harbour".into(),
        line: "main halyard".into(),
        piece: "B-017".into(),
        rope: "10 mm 12-strand HMPE, coated, grey".into(),
        cut_length: "32\u{2009}480\u{2009}mm".into(),
        finished_length: "31\u{2009}200\u{2009}mm".into(),
        reference_tension: "150\u{2009}N".into(),
        ends: vec![eye_end("End A, halyard shackle"), whipped("End B, clutch and winch")],
        findings: vec![
            FindingLine {
                grade: Grade::Caution,
                text: "The bury of 720 mm is the common rule; no maker's figure was given for this rope.".into(),
                remedy: Some("enter the maker's figure in the rope list".into()),
                weak_point: None,
                overrule: Overrule::Allowed,
            },
            FindingLine {
                grade: Grade::Note,
                text: "The strength of the rope is an estimate.".into(),
                remedy: None,
                weak_point: None,
                overrule: Overrule::Allowed,
            },
        ],
        cautions: vec!["HMPE creeps under standing load: do not leave it tight.".into()],
        as_made: vec![
            AsMadeBox { name: "finished length".into(), wanted: "31\u{2009}200 ± 20\u{2009}mm".into() },
            AsMadeBox { name: "bury, end A".into(), wanted: "720 ± 10\u{2009}mm".into() },
        ],
        weak_points: vec![
            WeakPointRow {
                place: "end A, splice".into(),
                strength: "52\u{2009}kN".into(),
                basis: "common practice, 90 % of the rope".into(),
                lowest: true,
            },
            WeakPointRow {
                place: "masthead sheave".into(),
                strength: "55\u{2009}kN".into(),
                basis: "D/d 8, our own rule".into(),
                lowest: false,
            },
            WeakPointRow {
                place: "crown on the pin".into(),
                strength: "not assessed".into(),
                basis: "no open table for fibre rope on a pin".into(),
                lowest: false,
            },
        ],
        rests_on: vec!["bury: common practice".into()],
        override_record: None,
        code: "becket:piece/2041/B-017".into(),
        day: Day { year: 2026, month: 11, day: 25 },
        ruler: Ruler::Millimetres,
    }
}
pub fn two_ends() -> BenchCard {
    let mut c = long_bury();
    c.line = "runner".into();
    c.ends = vec![eye_end("End A, runner block"), eye_end("End B, deck")];
    c.ends[1].layout = braid(10.0, 1320.0, 16.0);
    c.override_record = Some(OverrideRecord {
        name: "M. Loft".into(),
        date: "2026-11-24".into(),
        reason: "proof tested to 20 kN on the bench".into(),
    });
    c.findings.push(FindingLine {
        grade: Grade::Stop,
        text: "The bury of 300 mm does not hold at low friction.".into(),
        remedy: Some("bury 420 mm".into()),
        weak_point: Some("end B, bury".into()),
        overrule: Overrule::Allowed,
    });
    c
}
pub fn stopped() -> BenchCard {
    let mut c = long_bury();
    c.findings.push(FindingLine {
        grade: Grade::Stop,
        text: "The tail lets go: at low friction (0.05) it holds only 0.8 of the load it must carry.".into(),
        remedy: Some("bury 460 mm instead of 300 mm".into()),
        weak_point: Some("end A, bury".into()),
        overrule: Overrule::Allowed,
    });
    c
}
pub fn nasty() -> BenchCard {
    let mut c = long_bury();
    let evil = "#panic(\"x\") $x$ [*b*] <l> @r \\ `raw` // c /* */ &amp; </text><script>";
    c.line = format!("{evil} {}", "w".repeat(10_000));
    c.boat = "⛵ שלום \u{202e}abc \u{0} \u{7}".into();
    c.customer = "y".repeat(10_000);
    c.piece = "z".repeat(500);
    c.rope = evil.into();
    c.cut_length = "9".repeat(300);
    c.ends[0].layout.marks[3].name = format!("{evil} ⛵");
    c.ends[0].layout.marks[4].at_text = "8".repeat(400);
    c.ends[0].layout.stretches[1].label = "<b>&\u{1}⛵".into();
    c.ends[0].steps[0] = "long ".repeat(600);
    c.ends[0].steps[1] = "q".repeat(3000);
    c.ends[0].headlines[0].value = "7".repeat(900);
    c.weak_points[0].basis = evil.repeat(30);
    c.as_made[0].wanted = "1".repeat(900);
    c.findings[0].text = format!("{evil} \u{202e}⛵");
    c
}
pub fn plan() -> CutPlanSheet {
    let p = |number, name: &str, (from, to): (f64, f64), r: &str| PieceBar {
        number,
        name: name.into(),
        from_mm: from,
        length_mm: to - from,
        running_text: r.into(),
    };
    let mut reels = vec![
        ReelBar {
            name: "reel 12 · batch 7F · 100 m".into(),
            length_mm: 100000.0,
            pieces: vec![
                p(1, "main halyard", (0.0, 31000.0), "31.0 m"),
                p(2, "spinnaker halyard", (31010.0, 60010.0), "60.0 m"),
                p(3, "strop", (60020.0, 60720.0), "60.7 m"),
                p(4, "strop", (60730.0, 61430.0), "61.4 m"),
                p(5, "reef 1", (61440.0, 79440.0), "79.4 m"),
            ],
            rest_text: "left 20.6 m".into(),
            rests: vec![RestBar { from_mm: 79450.0, to_mm: 100000.0, rest: Rest::Kept }],
        },
        ReelBar {
            name: "remnant 4".into(),
            length_mm: 14000.0,
            pieces: vec![p(6, "outhaul", (0.0, 13300.0), "13.3 m")],
            rest_text: "scrap 0.7 m".into(),
            rests: vec![RestBar { from_mm: 13310.0, to_mm: 14000.0, rest: Rest::Scrap }],
        },
    ];
    let more = reels.clone();
    reels.extend(more.clone());
    reels.extend(more);
    CutPlanSheet {
        title: "Cut plan, order 2041".into(),
        verdict: "Proven least waste: 0.7 m of scrap, bound 0.7 m.".into(),
        headlines: vec![h("used", "92.7 m"), h("left", "20.6 m"), h("scrap", "0.7 m"), h("bound", "0.7 m")],
        ropes: vec![
            RopeReels { rope: "10 mm 12-strand HMPE, grey".into(), reels: reels.clone() },
            RopeReels { rope: "8 mm polyester".into(), reels: reels[..2].to_vec() },
        ],
        rows: (1..=24)
            .map(|n| CutRow {
                number: n,
                piece: format!("B-{n:03} main halyard"),
                boat: "Kittiwake".into(),
                reel: "reel 12".into(),
                length: "31\u{2009}000\u{2009}mm".into(),
                running: "31\u{2009}010\u{2009}mm".into(),
            })
            .collect(),
        findings: vec![],
        day: Day { year: 2026, month: 11, day: 25 },
    }
}
pub fn lines() -> LineTable {
    LineTable {
        title: "Order 2041".into(),
        subtitle: "Kittiwake · A. Harbour".into(),
        rows: (0..26)
            .map(|i| LineRow {
                line: format!("line {i}"),
                load: "4.2 kN steady, 6.3 kN peak".into(),
                rope: "10 mm 12-strand HMPE".into(),
                ends: "long-bury eye · whipped".into(),
                finished_length: "31\u{2009}200\u{2009}mm".into(),
                cut_length: "32\u{2009}480\u{2009}mm".into(),
                finding: (i % 3 == 0).then(|| (Grade::Caution, "estimate".into())),
            })
            .collect(),
        notes: vec!["Loads at 10 m/s.".into()],
        day: Day { year: 2026, month: 11, day: 25 },
    }
}
