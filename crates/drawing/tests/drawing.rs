//! Pictures through the public interface: true size, sums, refusals, and no
//! picture that cannot be read or parsed whatever is drawn.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use drawing::{
    Anchor, DrawingError, Eye, Look, Mark, MarkShape, On, Part, Phase, PieceBar, ReelBar, Rest, RestBar, RopeEnd,
    Ruler, SMALL_TYPE_MM, Shape, Stretch, StripLayout, Taper, TaperStep, What, cut_bars, finished, laid_out,
    mark_shape, marking_strip, taper, time_line,
};
use proptest::prelude::*;

#[path = "drawing/pieces.rs"]
mod pieces;
#[path = "drawing/plots.rs"]
mod plots;

const SHAPES: [MarkShape; 5] =
    [MarkShape::Line, MarkShape::ClosedBand, MarkShape::BrokenBand, MarkShape::Arrowhead, MarkShape::Cross];

fn mark(number: u32, at: f64, shape: MarkShape) -> Mark {
    Mark {
        number,
        on: On::Rope,
        name: format!("mark {number}"),
        from_bitter_end_mm: at,
        at_text: format!("{at} mm"),
        shape,
    }
}

fn end_with(marks: Vec<Mark>) -> RopeEnd {
    RopeEnd {
        rope_diameter_mm: 10.0,
        look: Look::Braid,
        stretches: vec![Stretch::new(What::TailInside, 0.0, 700.0)],
        made_up: vec![
            Stretch::new(What::TailInside, 0.0, 480.0).labelled("full tail"),
            Stretch::new(What::TaperInside, 480.0, 720.0),
        ],
        eye: Some(Eye { length_mm: 60.0, pin_mm: 12.0 }),
        marks,
        taper: None,
    }
}

/// Every value of an attribute in a picture.
fn attributes<'a>(svg: &'a str, name: &str) -> Vec<&'a str> {
    let opening = format!(" {name}=\"");
    svg.split(opening.as_str()).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

/// The leftmost and rightmost x of the filled paths that are solid ink.
fn inked_bands(svg: &str) -> Vec<(f64, f64)> {
    svg.split("<path ")
        .filter(|path| path.contains("fill=\"currentColor\"") && path.contains('Z'))
        .map(|path| {
            let d = attributes(&format!(" {path}"), "d").first().copied().unwrap_or_default().to_owned();
            let xs: Vec<f64> = d
                .split(['M', 'L', 'Z'])
                .filter_map(|pair| pair.split(' ').next())
                .filter_map(|x| x.parse().ok())
                .collect();
            (xs.iter().copied().fold(f64::INFINITY, f64::min), xs.iter().copied().fold(0.0, f64::max))
        })
        .collect()
}

#[test]
fn a_band_on_the_strip_stands_at_its_true_distance() {
    let end = end_with(vec![mark(1, 0.0, MarkShape::Line), mark(2, 137.0, MarkShape::ClosedBand)]);
    let strip = marking_strip(&end, &StripLayout::for_width("end A", 277.0)).unwrap();
    let tile = &strip.tiles[0];
    let bands = inked_bands(&tile.drawing.svg());
    let middle =
        bands.iter().map(|(low, high)| f64::midpoint(*low, *high)).find(|x| (x - tile.origin_mm - 137.0).abs() < 0.01);
    assert!(middle.is_some(), "no band at {} among {bands:?}", tile.origin_mm + 137.0);
    assert!(tile.drawing.svg().contains("width=\"277mm\"") && tile.drawing.svg().contains("viewBox=\"0 0 277 "));
}

#[test]
fn a_long_strip_leaves_plain_rope_out_and_says_how_much() {
    let marks = [(1, 0.0), (2, 120.0), (3, 900.0), (4, 3200.0)];
    let end = end_with(marks.iter().map(|(number, at)| mark(*number, *at, MarkShape::ClosedBand)).collect());
    let strip = marking_strip(&end, &StripLayout::for_width("end A", 277.0)).unwrap();
    assert_eq!(
        strip.sum_check(),
        "tile 1 150 + measure 720 plain + tile 2 60 + measure 2240 plain + tile 3 30 = 3200 mm"
    );
    assert!(strip.tiles[0].drawing.svg().contains("then measure 720 mm plain"));
    assert!(strip.tiles[1].drawing.svg().contains("after 720 mm plain"));
}

#[test]
fn inches_stand_at_inches() {
    let end = end_with(vec![mark(1, 0.0, MarkShape::Line), mark(2, 200.0, MarkShape::ClosedBand)]);
    let layout = StripLayout { ruler: Ruler::Inches, ..StripLayout::for_width("end A", 277.0) };
    let strip = marking_strip(&end, &layout).unwrap();
    // 4 in from the origin of the first tile, 101.6 mm.
    let x = format!("M{} ", strip.tiles[0].origin_mm + 101.6);
    assert!(strip.tiles[0].drawing.svg().contains(&x), "no tick at {x}");
}

#[test]
fn shapes_differ_and_are_named() {
    for (index, shape) in SHAPES.iter().enumerate() {
        for other in &SHAPES[..index] {
            assert_ne!(mark_shape(*shape).svg(), mark_shape(*other).svg());
            assert_ne!(mark_shape(*shape).alt, mark_shape(*other).alt);
        }
    }
}

#[test]
fn what_cannot_be_drawn_is_refused() {
    let good = end_with(vec![mark(1, 0.0, MarkShape::Line)]);
    assert!(matches!(laid_out(&good, 49.0), Err(DrawingError::TooNarrow { .. })));
    assert!(matches!(
        marking_strip(&good, &StripLayout::for_width("", 277.0)),
        Err(DrawingError::NotPositive { what: "length of the marking strip", .. })
    ));
    let thin = RopeEnd { rope_diameter_mm: 0.0, ..good.clone() };
    assert!(matches!(finished(&thin, 90.0), Err(DrawingError::NotPositive { .. })));
    let nowhere = end_with(vec![mark(1, f64::NAN, MarkShape::Line)]);
    assert!(matches!(laid_out(&nowhere, 90.0), Err(DrawingError::Negative { .. })));
    let back = RopeEnd { stretches: vec![Stretch::new(What::Eye, 5.0, 4.0)], ..good.clone() };
    assert!(matches!(laid_out(&back, 90.0), Err(DrawingError::Backwards { .. })));
    let step = |at, strands_left| TaperStep { from_bitter_end_mm: at, words: String::new(), strands_left };
    let grows = Taper { strands: 12, steps: vec![step(100.0, 8), step(80.0, 10)], slanted_cut_mm: 0.0 };
    let growing = RopeEnd { taper: Some(grows), ..good };
    assert!(matches!(taper(&growing, 90.0), Err(DrawingError::TaperGrows { strands_before: 8, .. })));
}

fn reel(lengths: &[f64], held: f64) -> ReelBar {
    let mut at = 0.0;
    let mut pieces = Vec::new();
    for (number, length) in (1..).zip(lengths) {
        let piece = PieceBar {
            number,
            name: "piece".into(),
            from_mm: at,
            length_mm: *length,
            running_text: format!("{:.0}", at + length),
        };
        at += length + 10.0;
        pieces.push(piece);
    }
    let rest = RestBar { from_mm: at.min(held), to_mm: held, rest: Rest::Kept };
    ReelBar { name: "reel 1".into(), length_mm: held, pieces, rest_text: "left".into(), rests: vec![rest] }
}

#[test]
fn pieces_that_do_not_fit_their_reel_are_refused() {
    // Two pieces and one cut between them fill the reel; the last cut is free.
    assert!(cut_bars(&[reel(&[490.0, 500.0], 1000.0)], 0.0, 180.0).is_ok());
    assert!(matches!(cut_bars(&[reel(&[491.0, 500.0], 1000.0)], 0.0, 180.0), Err(DrawingError::ReelTooShort { .. })));
}

#[test]
fn pieces_lie_where_they_are_cut_and_labels_stay_in_the_frame() {
    let mut flawed = reel(&[400.0, 300.0], 1000.0);
    flawed.pieces[1].from_mm = 700.0;
    flawed.pieces[1].running_text = "700–1,000 mm of the reel".into();
    flawed.rests = vec![
        RestBar { from_mm: 430.0, to_mm: 650.0, rest: Rest::Scrap },
        RestBar { from_mm: 650.0, to_mm: 700.0, rest: Rest::Flaw },
    ];
    let plan = cut_bars(&[flawed.clone()], 1000.0, 102.0).unwrap();
    let svg = plan.svg();
    // To a scale of 1 : 10 from the left edge at 1: 700 mm lie at 71, not at 42.
    assert!(svg.contains("M71 ") && !svg.contains("M42 "), "{svg}");
    for shape in &plan.shapes {
        let Shape::Text { at, text, set } = shape else { continue };
        // Figures are half as wide as they are high, and never wider than high.
        let wide = text.chars().count() as f64 * set.size_mm * 0.5;
        let right = match set.anchor {
            Anchor::Start => at.0 + wide,
            Anchor::Middle => at.0 + wide / 2.0,
            Anchor::End => at.0,
        };
        assert!(right <= 102.5, "{text} ends at {right}");
    }
    flawed.pieces[1].from_mm = 300.0;
    assert!(matches!(cut_bars(&[flawed], 1000.0, 102.0), Err(DrawingError::Backwards { .. })));
}

#[test]
fn bars_are_to_one_scale() {
    let plan = cut_bars(&[reel(&[500.0], 1000.0), reel(&[250.0], 500.0)], 2000.0, 182.0).unwrap();
    assert_eq!(plan.notes, ["scale 1 : 11.1"]);
    // 500 mm of a 2,000 mm scale over 180 mm are 45 mm from the left edge at 1.
    assert!(plan.svg().contains("L46 "), "the first piece does not end at 46 mm");
}

#[test]
fn text_stays_text() {
    let mut end = end_with(vec![mark(1, 100.0, MarkShape::Line)]);
    end.marks[0].at_text = "</text><script>\"&\u{7}".into();
    let picture = laid_out(&end, 90.0).unwrap();
    assert!(picture.svg().contains("&lt;/text&gt;&lt;script&gt;&quot;&amp;\u{fffd}"));
    assert!(!picture.svg().contains("<script>"));
}

#[test]
fn many_marks_take_a_row_or_two_and_not_a_flight_of_stairs() {
    let places = [0.0, 21.0, 54.0, 108.0, 173.0, 504.0, 554.0, 605.0, 1135.0, 1170.0, 13_449.0, 13_484.0, 13_490.0];
    let marks = (1..).zip(places).map(|(number, at)| mark(number, at, MarkShape::Line)).collect();
    let end = end_with(marks);
    let one_row = laid_out(&end, 190.0).unwrap();
    assert!(one_row.height_mm < 32.0, "{} mm high", one_row.height_mm);
    let two_rows = laid_out(&end, 80.0).unwrap();
    assert!(two_rows.height_mm < 40.0, "{} mm high", two_rows.height_mm);
    // On the cover, numbers stand under the rope.
    let mut covered = end;
    covered.marks[12].on = On::Cover;
    let svg = laid_out(&covered, 190.0).unwrap().svg();
    let y = |number: &str| {
        let tag = svg
            .split("<text ")
            .find(|tag| tag.ends_with(&format!(">{number}</text>")) || tag.contains(&format!(">{number}</text>")))
            .unwrap();
        attributes(&format!(" {tag}"), "y")[0].parse::<f64>().unwrap()
    };
    assert!(y("13") > y("12") + 15.0, "{} {}", y("13"), y("12"));
}

#[test]
fn a_time_line_numbers_its_steps_through() {
    let phase = |name: &str, steps| Phase { name: name.into(), steps };
    let line =
        time_line(&[phase("before the tail goes in", 6), phase("tail in", 1), phase("finish", 5)], 190.0).unwrap();
    let svg = line.svg();
    for part in ["before the tail goes in 1–6", "tail in 7", "finish 8–12"] {
        assert!(svg.contains(&format!(">{part}</text>")), "{part} is not named with its steps: {svg}");
    }
    assert_eq!(
        line.alt,
        "The order of work. before the tail goes in: steps 1 to 6; tail in: step 7; finish: steps 8 to 12."
    );
    assert!(matches!(time_line(&[phase("nothing", 0)], 190.0), Err(DrawingError::NotPositive { .. })));
}

fn looks() -> impl Strategy<Value = Look> {
    prop_oneof![Just(Look::Braid), Just(Look::Laid), Just(Look::Plait), Just(Look::Covered)]
}

fn whats() -> impl Strategy<Value = What> {
    prop_oneof![
        Just(What::Standing),
        Just(What::TailInside),
        Just(What::CoverInside),
        Just(What::TaperInside),
        Just(What::Cover),
        Just(What::BareCore),
        Just(What::Stitching),
        Just(What::Whipping),
        Just(What::Eye),
        Just(What::Tucks),
        Just(What::Length),
    ]
}

fn stretches() -> impl Strategy<Value = Vec<Stretch>> {
    prop::collection::vec(
        (0.0..3000.0, 0.0..2000.0, whats(), "[a-z ]{0,20}")
            .prop_map(|(from, long, what, label)| Stretch::new(what, from, from + long).labelled(label)),
        0..6,
    )
}

fn marks() -> impl Strategy<Value = Vec<Mark>> {
    prop::collection::vec((0.0..6000.0_f64, 0..5_usize), 1..14).prop_map(|mut places| {
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        (1..).zip(places).map(|(number, (at, shape))| mark(number, at.round(), SHAPES[shape])).collect()
    })
}

prop_compose! {
    fn ends()(
        rope_diameter_mm in 1.0..60.0_f64,
        look in looks(),
        stretches_laid in stretches(),
        made_up in stretches(),
        eye in prop::option::of((1.0..900.0_f64, 0.0..400.0_f64)),
        marks in marks(),
    ) -> RopeEnd {
        RopeEnd {
            rope_diameter_mm,
            look,
            stretches: stretches_laid,
            made_up,
            eye: eye.map(|(length_mm, pin_mm)| Eye { length_mm, pin_mm }),
            marks,
            taper: Some(Taper {
                strands: 12,
                steps: vec![TaperStep { from_bitter_end_mm: 90.0, words: "90 mm".into(), strands_left: 6 }],
                slanted_cut_mm: 30.0,
            }),
        }
    }
}

/// Nothing in a picture may be unreadable: no broken number, no type under
/// 9 pt, no size of zero.
fn check_legible(picture: &drawing::Drawing) -> Result<(), TestCaseError> {
    let svg = picture.svg();
    // Words may say anything; places and sizes are numbers.
    for name in ["d", "x", "y", "x1", "y1", "cx", "cy", "width", "height", "font-size", "viewBox"] {
        for value in attributes(&svg, name) {
            prop_assert!(!value.contains("NaN") && !value.contains("inf"), "a number is broken: {name} {value}");
        }
    }
    prop_assert!(picture.width_mm > 0.0 && picture.height_mm > 0.0);
    for size in attributes(&svg, "font-size") {
        prop_assert!(size.parse::<f64>().unwrap() >= SMALL_TYPE_MM - 1e-9, "type of {size} mm");
    }
    let opened = svg.matches('<').count();
    let closed = svg.matches("/>").count() + 2 * svg.matches("</").count();
    prop_assert_eq!(opened, closed, "an element is not closed");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn every_picture_is_legible_and_repeatable(end in ends(), width in 60.0..200.0_f64) {
        for picture in [laid_out(&end, width).unwrap(), finished(&end, width).unwrap(), taper(&end, width).unwrap().unwrap()] {
            check_legible(&picture)?;
        }
        prop_assert_eq!(laid_out(&end, width), laid_out(&end, width));
        prop_assert_eq!(finished(&end, width), finished(&end, width));
    }

}

proptest! {
    #[test]
    fn tiles_and_plain_lengths_add_up(end in ends(), width in 150.0..300.0_f64) {
        let last = end.marks.iter().map(|mark| mark.from_bitter_end_mm).fold(0.0, f64::max);
        prop_assume!(last > 0.0);
        let layout = StripLayout::for_width("end A", width);
        let strip = marking_strip(&end, &layout).unwrap();
        let mut at = 0.0;
        for part in &strip.parts {
            match part {
                Part::Tile { index, length_mm } => {
                    let tile = &strip.tiles[*index];
                    prop_assert!((tile.from_mm - at).abs() < 1e-9 && *length_mm > 0.0);
                    prop_assert!(tile.origin_mm + length_mm <= width, "a tile is wider than the page");
                    at = tile.to_mm;
                }
                Part::Plain { length_mm } => {
                    prop_assert!(last > layout.longest_whole_mm && *length_mm >= 200.0);
                    at += length_mm;
                }
            }
        }
        prop_assert!((at - last).abs() < 1e-9, "parts end at {at}, marks at {last}");
    }

    #[test]
    fn every_mark_is_on_the_strip_at_true_size(end in ends(), width in 150.0..300.0_f64) {
        prop_assume!(end.marks.iter().any(|mark| mark.from_bitter_end_mm > 0.0));
        let strip = marking_strip(&end, &StripLayout::for_width("end A", width)).unwrap();
        for mark in &end.marks {
            let at = mark.from_bitter_end_mm;
            let places: Vec<f64> = strip
                .tiles
                .iter()
                .filter(|tile| (tile.from_mm..=tile.to_mm).contains(&at))
                .flat_map(|tile| tile.marks.iter().filter(|(number, _)| *number == mark.number).map(|(_, x)| x - tile.origin_mm + tile.from_mm))
                .collect();
            prop_assert!(!places.is_empty(), "mark {} at {at} is on no tile", mark.number);
            for place in places {
                prop_assert!((place - at).abs() < 1e-9);
            }
        }
    }
}
