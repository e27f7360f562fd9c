//! Sheets looked at through the frames that become the PDF: true size, type
//! sizes, nothing outside the page, nothing on top of anything else.

use typst::layout::{Frame, FrameItem, Point, Transform};
use typst_layout::PagedDocument;

use super::*;
use drawing::{On, Phase};

#[path = "../tests/sample/mod.rs"]
mod sample;

const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

/// A piece of text on a page, in mm from the top left corner.
#[derive(Debug, Clone)]
struct Words {
    text: String,
    left: f64,
    right: f64,
    baseline: f64,
    size_pt: f64,
}

/// A drawing on a page, in mm.
#[derive(Debug, Default)]
struct Picture {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
    words: Vec<Words>,
    /// Left and right edge of every shape.
    shapes: Vec<(f64, f64)>,
}

#[derive(Default)]
struct Found {
    words: Vec<Words>,
    pictures: Vec<Picture>,
    turned: usize,
}

fn look(page: &Frame) -> Found {
    let mut found = Found::default();
    walk(page, Point::zero(), &mut found, None);
    found
}

/// Collects what is on a frame; `picture` is the drawing it is part of.
fn walk(frame: &Frame, at: Point, found: &mut Found, picture: Option<usize>) {
    for (place, item) in frame.items() {
        let place = at + *place;
        match item {
            FrameItem::Group(group) => {
                if !group.transform.is_only_translate() {
                    found.turned += 1;
                }
                let Transform { tx, ty, .. } = group.transform;
                let place = place + Point::new(tx, ty);
                let picture = if group.label.is_some() {
                    found.pictures.push(Picture {
                        left: place.x.to_mm(),
                        top: place.y.to_mm(),
                        width: group.frame.width().to_mm(),
                        height: group.frame.height().to_mm(),
                        ..Picture::default()
                    });
                    Some(found.pictures.len() - 1)
                } else {
                    picture
                };
                walk(&group.frame, place, found, picture);
            }
            FrameItem::Text(text) => {
                let words = Words {
                    text: text.text.to_string(),
                    left: place.x.to_mm(),
                    right: (place.x + text.width()).to_mm(),
                    baseline: place.y.to_mm(),
                    size_pt: text.size.to_pt(),
                };
                match picture {
                    Some(index) => found.pictures[index].words.push(words),
                    None => found.words.push(words),
                }
            }
            FrameItem::Shape(shape, _) => {
                if let Some(index) = picture {
                    let bounds = shape.geometry.bbox(None);
                    let edges = ((place.x + bounds.min.x).to_mm(), (place.x + bounds.max.x).to_mm());
                    found.pictures[index].shapes.push(edges);
                }
            }
            FrameItem::Image(..) | FrameItem::Link(..) | FrameItem::Tag(_) => {}
        }
    }
}

fn all_text(document: &PagedDocument) -> String {
    let words: Vec<String> = document
        .pages()
        .iter()
        .flat_map(|page| {
            let found = look(&page.frame);
            let drawn: Vec<Words> = found.pictures.into_iter().flat_map(|picture| picture.words).collect();
            found.words.into_iter().chain(drawn)
        })
        .map(|words| words.text)
        .collect();
    words.join(" ").replace('\u{200b}', "")
}

fn pages(card: &BenchCard, paper: Paper) -> PagedDocument {
    bench_card_pages(std::slice::from_ref(card), paper).expect("the card is set")
}

fn is_tile(picture: &Picture) -> bool {
    picture.words.iter().any(|words| words.text.contains(" · tile "))
}

/// Where a tile begins and the place of that on the page, both in mm.
fn origin(tile: &Picture) -> (f64, f64) {
    let title = tile.words.iter().find(|words| words.text.contains(" · tile ")).expect("a tile has a title");
    let range = title.text.rsplit(" · ").next().unwrap_or_default();
    let from = range.split(' ').next().unwrap_or_default().parse().expect("a tile says where it begins");
    (from, tile.left + 12.0)
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.01
}

#[test]
fn pages_have_the_size_of_the_paper_and_strips_lie_along_it() {
    for paper in PAPERS {
        let (width, height) = paper.size_mm();
        let document = pages(&sample::long_bury(), paper);
        for page in document.pages() {
            let size = (page.frame.width().to_mm(), page.frame.height().to_mm());
            let tiles = look(&page.frame).pictures.iter().any(is_tile);
            let wanted = if tiles { (height, width) } else { (width, height) };
            assert!(near(size.0, wanted.0) && near(size.1, wanted.1), "{size:?} on {paper:?}");
        }
    }
}

#[test]
fn every_page_carries_a_bar_of_one_hundred_millimetres() {
    for paper in PAPERS {
        for page in pages(&sample::two_ends(), paper).pages() {
            let found = look(&page.frame);
            let long = |picture: &&Picture| picture.shapes.iter().any(|(left, right)| near(right - left, 100.0));
            let bar = found.pictures.iter().find(|picture| picture.words.is_empty() && near(picture.width, 100.0));
            assert!(bar.as_ref().is_some_and(long), "no bar of 100 mm");
            assert!(found.words.iter().any(|words| words.text.contains("print at 100 %")));
        }
    }
}

#[test]
fn the_marking_strip_is_at_true_size() {
    for paper in PAPERS {
        let card = sample::two_ends();
        let mut bands = Vec::new();
        let mut labels = Vec::new();
        for page in pages(&card, paper).pages() {
            let found = look(&page.frame);
            // Nothing on any page is scaled or turned, so a millimetre of the
            // frame is a millimetre on paper.
            assert_eq!(found.turned, 0);
            for tile in found.pictures.iter().filter(|picture| is_tile(picture)) {
                let (from, place) = origin(tile);
                let true_distance = |x: f64| x - place + from;
                let shapes = tile.shapes.iter().filter(|(left, right)| near(right - left, 1.3));
                bands.extend(shapes.map(|(left, right)| true_distance(f64::midpoint(*left, *right))));
                labels.extend(tile.words.iter().map(|words| words.text.clone()));
                // Ruler numbers in the middle of a tile stand over their ticks.
                for words in &tile.words {
                    let Ok(number) = words.text.parse::<f64>() else { continue };
                    let middle = true_distance(f64::midpoint(words.left, words.right));
                    let at_an_edge = (number - from) < 5.0 || words.right > tile.left + tile.width - 30.0;
                    let is_ruler = words.size_pt < 10.0 && number % 50.0 == 0.0;
                    assert!(!is_ruler || at_an_edge || near(middle, number), "{number} stands at {middle}");
                }
            }
        }
        for end in &card.ends {
            for mark in &end.layout.marks {
                let label = format!("{}, {}", mark.name, mark.at_text);
                assert!(labels.contains(&label), "mark {} is not named on the strip", mark.number);
                if mark.shape == drawing::MarkShape::ClosedBand {
                    let at = mark.from_bitter_end_mm;
                    assert!(bands.iter().any(|band| near(*band, at)), "no band at {at}: {bands:?}");
                }
            }
        }
    }
}

#[test]
fn the_sum_of_the_tiles_is_printed_and_is_the_last_mark() {
    let text = all_text(&pages(&sample::two_ends(), Paper::A4));
    assert!(text.contains("= 1642 mm"), "the short strip's sum is missing");
    let long = text.split("Sum:").find(|part| part.contains("= 2842 mm")).expect("the long strip's sum is there");
    let sum: f64 = long
        .split("= 2842")
        .next()
        .unwrap_or_default()
        .replace("plain", "")
        .split('+')
        .map(|part| part.trim().rsplit(' ').next().unwrap_or_default().parse::<f64>().expect("a number"))
        .sum();
    assert!(near(sum, 2842.0), "{sum}");
    assert!(long.contains("plain"), "nothing was left out of a strip of 2.8 m");
}

/// Nothing outside the margins and no words on other words.
fn check_page(page: &Frame, paper: Paper, what: &str) {
    let found = look(page);
    let (width, height) = (page.width().to_mm(), page.height().to_mm());
    for words in &found.words {
        assert!(words.left >= layout::margin(paper) - 0.1, "{what}: {words:?} starts in the margin");
        assert!(words.right <= width - layout::margin(paper) + 0.1, "{what}: {words:?} runs into the margin");
        assert!(words.baseline <= height - 5.0, "{what}: {words:?} runs off the foot");
        assert!(words.size_pt >= 8.999, "{what}: {words:?} is smaller than 9 pt");
    }
    for words in found.pictures.iter().flat_map(|picture| &picture.words) {
        assert!(words.size_pt >= 8.999 && words.left >= layout::margin(paper) - 0.1, "{what}: {words:?}");
        assert!(words.right <= width - layout::margin(paper) + 0.1, "{what}: {words:?} runs into the margin");
    }
    for picture in &found.pictures {
        no_words_on_words(&picture.words, what);
        assert!(picture.left >= layout::margin(paper) - 0.1 && picture.top >= 0.0, "{what}: a picture in the margin");
        assert!(picture.left + picture.width <= width - layout::margin(paper) + 0.1, "{what}: a picture in the margin");
        let is_bar = picture.words.is_empty() && near(picture.width, layout::check_bar_mm(paper));
        assert!(is_bar || picture.top + picture.height <= height - 8.6, "{what}: a picture runs off the foot");
        for words in &found.words {
            let clear = words.right <= picture.left + 0.05
                || words.left >= picture.left + picture.width - 0.05
                || words.baseline <= picture.top + 0.3
                || words.baseline - cap_height(words) >= picture.top + picture.height - 0.3;
            assert!(clear, "{what}: {words:?} stands on a picture");
        }
    }
    no_words_on_words(&found.words, what);
}

fn no_words_on_words(words: &[Words], what: &str) {
    for (index, one) in words.iter().enumerate() {
        for other in &words[index + 1..] {
            let beside = one.right <= other.left + 0.05 || other.right <= one.left + 0.05;
            let over = one.baseline <= other.baseline - cap_height(other) + 0.05
                || other.baseline <= one.baseline - cap_height(one) + 0.05;
            assert!(beside || over, "{what}: {one:?} stands on {other:?}");
        }
    }
}

/// Height of capitals of Noto Sans, in mm.
fn cap_height(words: &Words) -> f64 {
    words.size_pt * 0.714 * 25.4 / 72.0
}

#[test]
fn nothing_is_clipped_or_on_top_of_anything_else() {
    for paper in PAPERS {
        let cards = [
            ("long bury", sample::long_bury()),
            ("two ends", sample::two_ends()),
            ("refusal", sample::stopped()),
            ("hostile", sample::nasty()),
        ];
        for (what, card) in cards {
            for page in pages(&card, paper).pages() {
                check_page(&page.frame, paper, what);
            }
        }
        let plan = cut_plan_pages(&sample::plan(), paper).expect("set");
        let lines = line_table_pages(&sample::lines(), paper).expect("set");
        for page in plan.pages().iter().chain(lines.pages()) {
            check_page(&page.frame, paper, "plan or lines");
        }
    }
}

#[test]
fn bench_numbers_are_set_large() {
    let card = sample::long_bury();
    let document = pages(&card, Paper::A4);
    let words: Vec<Words> = document.pages().iter().flat_map(|page| look(&page.frame).words).collect();
    let size =
        |text: &str| words.iter().filter(|words| words.text == text).map(|words| words.size_pt).fold(0.0, f64::max);
    assert!(size(&card.cut_length) >= 17.9);
    for mark in &card.ends[0].layout.marks {
        assert!(size(&mark.at_text) >= 13.9, "mark {} is set in {} pt", mark.number, size(&mark.at_text));
    }
    // Of the numbers the cut length is the largest.
    let figure = |words: &&Words| words.text.starts_with(|c: char| c.is_ascii_digit());
    let largest = words.iter().filter(figure).map(|words| words.size_pt).fold(0.0, f64::max);
    assert!(near(size(&card.cut_length), largest));
}

#[test]
fn a_card_with_one_spliced_end_is_one_page_and_its_strip_another() {
    let card = sample::long_bury();
    let document = pages(&card, Paper::A4);
    let upright = document.pages().iter().filter(|page| page.frame.width() < page.frame.height()).count();
    assert_eq!(upright, 1);
    let text = all_text(&pages(&card, Paper::A4));
    for words in ["before the tail goes in", "Always.", "initials", "No published source"] {
        assert!(text.contains(words), "{words} is missing");
    }
}

#[test]
fn on_a_roll_a_strip_is_one_tile_and_lies_along_it() {
    let card = sample::long_bury();
    let document = pages(&card, Paper::Roll);
    for page in document.pages() {
        let (width, height) = (page.frame.width().to_mm(), page.frame.height().to_mm());
        let found = look(&page.frame);
        let tiles = found.pictures.iter().filter(|picture| is_tile(picture)).count();
        assert!(near(width, 100.0) || (near(height, 100.0) && tiles == 1), "{width} by {height} mm, {tiles} tiles");
        check_page(&page.frame, Paper::Roll, "roll");
    }
    assert!(all_text(&document).contains("tile 1 1642 = 1642 mm"));
}

#[test]
fn core_and_cover_have_strips_of_their_own() {
    let mut card = sample::long_bury();
    for (mark, on) in card.ends[0].layout.marks.iter_mut().zip([On::Core, On::Core, On::Cover, On::Cover]) {
        mark.on = on;
    }
    for mark in card.ends[0].layout.marks.iter_mut().skip(4) {
        mark.on = On::Core;
    }
    let text = all_text(&pages(&card, Paper::A4));
    assert!(text.contains("End A, halyard shackle · core") && text.contains("End A, halyard shackle · cover"));
    assert!(text.contains("= 1642 mm") && text.contains("tile 1 240 = 240 mm"), "{text}");
    assert!(text.contains("cover first pair out") && text.contains("core throat, tail side"));
}

/// Numbers that follow one another without a pattern, the same every time.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    fn words(&mut self, most: u64) -> String {
        let count = self.below(most) + 1;
        (0..count).map(|_| "abcdefghij klmno"[..=self.below(15) as usize].to_owned()).collect::<Vec<_>>().join(" ")
    }
}

fn random_card(numbers: &mut Numbers) -> BenchCard {
    let mut card = if numbers.below(2) == 0 { sample::long_bury() } else { sample::two_ends() };
    let diameter = 3.0 + numbers.below(30) as f64;
    card.line = numbers.words(6);
    card.rope = numbers.words(12);
    for end in &mut card.ends {
        let bury = diameter * (20 + numbers.below(60)) as f64;
        if !end.layout.marks.is_empty() {
            end.layout = sample::braid(diameter, bury.round(), diameter * numbers.below(4) as f64);
            for mark in &mut end.layout.marks {
                mark.name = numbers.words(5);
                mark.on = [On::Rope, On::Rope, On::Core, On::Cover][numbers.below(4) as usize];
            }
        }
        end.steps = (0..=numbers.below(18)).map(|_| numbers.words(20)).collect();
        let steps = end.steps.len();
        let before = numbers.below(steps as u64) as usize;
        end.phases = [before, steps - before].map(|steps| Phase { name: numbers.words(3), steps }).to_vec();
    }
    for _ in 0..numbers.below(5) {
        let finding = FindingLine { text: numbers.words(40), ..card.findings[0].clone() };
        card.findings.push(finding);
    }
    card
}

/// 12 pieces here; `BECKET_PIECES=500` is what a change of the card is
/// checked with.
#[test]
fn nothing_is_clipped_or_overlaps_on_random_pieces() {
    let count = std::env::var("BECKET_PIECES").ok().and_then(|count| count.parse().ok()).unwrap_or(12);
    let mut numbers = Numbers(2041);
    let mut looked = 0;
    for index in 0..count {
        let card = random_card(&mut numbers);
        let paper = [Paper::A4, Paper::Letter, Paper::Roll][numbers.below(3) as usize];
        for page in pages(&card, paper).pages() {
            check_page(&page.frame, paper, &format!("piece {index}"));
            looked += 1;
        }
    }
    assert!(looked >= count, "{looked} pages of {count} pieces");
}

fn label(line: &str) -> Label {
    Label {
        line: line.into(),
        boat: "Kittiwake".into(),
        piece: "2041/03a".into(),
        rope: "10 mm 12-strand HMPE, coated".into(),
        length: "31 200 mm".into(),
        strength: "52.4 kN".into(),
        working_load: "5.42 kN".into(),
        override_record: None,
        code: "2041/03a".into(),
        day: Day { year: 2026, month: 11, day: 25 },
    }
}

#[test]
fn labels_keep_to_their_places() {
    let overruled = Label {
        override_record: sample::two_ends().override_record,
        line: "w".repeat(10_000),
        rope: "#panic() ⛵ \u{202e}".repeat(100),
        ..label("runner")
    };
    let all = [label("main halyard"), overruled, label("vang")];
    let (width, height) = (70.0, 42.0);
    let roll = label_pages(&all, LabelStock::Roll { width_mm: width, height_mm: height }).expect("set");
    assert_eq!(roll.pages().len(), 3);
    let sheet =
        LabelStock::Sheet { paper: Paper::A4, width_mm: width, height_mm: height, grid: (2, 6), gap_mm: (2.0, 0.0) };
    let many: Vec<Label> = all.iter().cycle().take(30).cloned().collect();
    let sheets = label_pages(&many, sheet).expect("set");
    assert_eq!(sheets.pages().len(), 3, "30 labels, 12 a sheet");
    for (page, least) in roll.pages().iter().map(|page| (page, 1)).chain(sheets.pages().iter().map(|page| (page, 6))) {
        let found = look(&page.frame);
        no_words_on_words(&found.words, "labels");
        let (left, top) = if least == 1 { (0.0, 0.0) } else { ((210.0 - 142.0) / 2.0, (297.0 - 252.0) / 2.0) };
        for words in &found.words {
            let (x, y) = (words.left - left, words.baseline - top);
            let (column, row) = ((x / 72.0).floor(), (y / 42.0).floor());
            assert!(
                x - column * 72.0 >= 1.4 && words.right - left <= column * 72.0 + 69.0,
                "{words:?} leaves its label"
            );
            assert!(y - row * 42.0 >= 3.0 && y - row * 42.0 <= 41.0, "{words:?} leaves its label");
            assert!(words.size_pt >= 8.999, "{words:?}");
        }
        assert!(found.pictures.len() >= least, "a label has no code");
    }
    let text = all_text(&roll);
    assert!(text.contains("Stop overruled:") && text.contains("M. Loft") && text.contains("2026-11-24"));
    assert!(text.contains("work") && text.contains("5.42 kN") && text.contains("breaks at 52.4 kN"));
}

#[test]
fn labels_too_small_or_too_many_for_their_sheet_are_refused() {
    let stock = |width_mm, height_mm, grid| LabelStock::Sheet {
        paper: Paper::A4,
        width_mm,
        height_mm,
        grid,
        gap_mm: (0.0, 0.0),
    };
    let one = [label("vang")];
    assert!(matches!(
        labels(&one, LabelStock::Roll { width_mm: 50.0, height_mm: 42.0 }),
        Err(SheetError::LabelTooSmall { .. })
    ));
    assert!(matches!(labels(&one, stock(70.0, 42.0, (4, 6))), Err(SheetError::LabelsDoNotFit { .. })));
    assert!(matches!(labels(&one, stock(70.0, 42.0, (0, 6))), Err(SheetError::LabelsDoNotFit { .. })));
    assert_eq!(labels(&[], stock(70.0, 42.0, (2, 6))), Err(SheetError::Empty));
}

#[test]
fn documents_keep_every_cell_on_every_paper() {
    let table = Table {
        columns: vec![Column::words("what", 2), Column::words("source", 3), Column::result("result")],
        rows: (0..60)
            .map(|row| vec![format!("step {row}"), "#panic() a handbook ".repeat(6), format!("{row} kN")])
            .collect(),
    };
    let paper_of = |paper: Paper, lies: Lies| Document {
        kind: "calculation sheet".into(),
        title: "main halyard".into(),
        subtitle: "order 2041 · Kittiwake".into(),
        headlines: vec![Headline { name: "pieces".into(), value: "3".into() }],
        findings: sample::two_ends().findings,
        blocks: vec![
            Block::Heading("Working".into()),
            Block::Text("y".repeat(10_000)),
            Block::Table(table.clone()),
            Block::Picture(
                "the end".into(),
                drawing::laid_out(&sample::braid(10.0, 720.0, 12.0), picture_width(paper, lies)).expect("drawn"),
            ),
            Block::Findings(sample::two_ends().findings),
            Block::Boxes(vec![AsMadeBox { name: "received by".into(), wanted: String::new() }]),
        ],
        code: Some("2041".into()),
        lies,
        day: Day { year: 2026, month: 11, day: 25 },
    };
    for (paper, lies) in [(Paper::A4, Lies::Upright), (Paper::Letter, Lies::Along), (Paper::Roll, Lies::Upright)] {
        let document = document_pages(&paper_of(paper, lies), paper).expect("set");
        for page in document.pages() {
            check_page(&page.frame, paper, "document");
        }
        let text = all_text(&document);
        assert!((0..60).all(|row| text.contains(&format!("step {row}")) && text.contains(&format!("{row} kN"))));
        assert!(text.contains("#panic()") && text.contains("received by"));
    }
    let uneven = Document {
        blocks: vec![Block::Table(Table { columns: vec![], ..table.clone() })],
        ..paper_of(Paper::A4, Lies::Upright)
    };
    assert!(matches!(super::document(&uneven, Paper::A4), Err(SheetError::Uneven { cells: 3, columns: 0 })));
}

#[test]
fn text_from_users_is_printed_and_never_read() {
    let card = sample::nasty();
    let document = pages(&card, Paper::A4);
    let text = all_text(&document);
    for markup in ["#panic(\"x\")", "$x$", "[*b*]", "<l>", "@r", "`raw`", "/* */", "<script>"] {
        assert!(text.contains(markup), "{markup} was read or lost");
    }
    assert!(text.contains("U+26F5") && text.contains("U+202E"), "characters without a glyph were lost");
    assert!(text.contains('…'), "nothing was shortened visibly");
    assert!(document.pages().len() <= 8, "{} pages", document.pages().len());
    assert!(pdf::write(&document).is_ok(), "the PDF/A writer refused a glyph");
}

#[test]
fn a_stop_makes_a_refusal_of_one_page() {
    for paper in PAPERS {
        let card = sample::stopped();
        let document = pages(&card, paper);
        let text = all_text(&document);
        assert_eq!(document.pages().len(), 1);
        assert!(text.contains("end A, bury") && text.contains("bury 460 mm instead of 300 mm"));
        assert!(text.contains("Not for life support") && !text.contains("Marking strip at true size"));
        assert!(!look(&document.pages()[0].frame).pictures.iter().any(is_tile));
        assert!(!text.contains(&card.cut_length), "a refusal tells nobody what to cut");
    }
}

#[test]
fn a_refusal_stays_one_page_however_much_is_wrong() {
    let mut card = sample::stopped();
    for finding in &mut card.findings {
        finding.grade = Grade::Stop;
        finding.text = "it does not hold ".repeat(600);
        finding.remedy = Some("a longer bury ".repeat(600));
    }
    let row = card.weak_points[0].clone();
    card.weak_points = vec![row; 40];
    assert_eq!(pages(&card, Paper::Letter).pages().len(), 1);
}

#[test]
fn an_override_prints_the_card_with_its_record_unless_nobody_may() {
    let card = sample::two_ends();
    let text = all_text(&pages(&card, Paper::A4));
    assert!(text.contains("M. Loft") && text.contains("2026-11-24") && text.contains("proof tested to 20 kN"));
    assert!(text.contains("Marking strip at true size"));

    let mut held = card;
    for finding in &mut held.findings {
        finding.overrule = Overrule::Never;
    }
    let document = pages(&held, Paper::A4);
    assert_eq!(document.pages().len(), 1);
    assert!(all_text(&document).contains("cannot be overruled"));
}

#[test]
fn every_card_carries_the_cautions_and_its_numbers() {
    let card = sample::long_bury();
    let text = all_text(&pages(&card, Paper::A4));
    let wanted = [
        "life support",
        "climbing",
        "lifting people",
        "standing rigging",
        "outranks",
        "qualified people",
        "recoils",
        "hot cutting",
        "twine under load",
        "Kittiwake",
        "order 2041",
        "A. Harbour",
        "B-017",
        "150\u{2009}N",
        "batch",
        "initials",
        "crown on the pin",
        "bury: common practice",
        "before the tail goes in",
        "2026-11-25",
        "End B, clutch and winch",
        "puller goes in",
    ];
    for words in wanted {
        assert!(text.contains(words), "{words} is missing");
    }
}

#[test]
fn findings_are_told_by_word_as_well() {
    let text = all_text(&pages(&sample::two_ends(), Paper::A4));
    for word in ["Stop", "Caution", "Note"] {
        assert!(text.contains(word), "{word} is missing");
    }
}

#[test]
fn many_reels_go_to_more_pages_and_no_cut_is_lost() {
    let mut plan = sample::plan();
    let reels = plan.ropes[0].reels.clone();
    plan.ropes[0].reels = reels.iter().cycle().take(24).cloned().collect();
    let document = cut_plan_pages(&plan, Paper::A4).expect("set");
    assert!(document.pages().len() >= 3);
    let bars: usize = document
        .pages()
        .iter()
        .flat_map(|page| look(&page.frame).pictures)
        .flat_map(|picture| picture.words)
        .filter(|words| words.text.starts_with("reel 12 ·") || words.text == "remnant 4")
        .count();
    assert_eq!(bars, 24 + plan.ropes[1].reels.len());
    let text = all_text(&document);
    for row in &plan.rows {
        assert!(text.contains(&row.piece), "{} is missing", row.piece);
    }
    assert!(text.contains("Proven least waste"));
}

#[test]
fn cards_follow_one_another_each_on_its_own_page() {
    let cards: Vec<BenchCard> = (0..3)
        .map(|index| BenchCard { piece: format!("Q-{index}"), code: format!("q/{index}"), ..sample::long_bury() })
        .collect();
    let one = pages(&cards[0], Paper::A4).pages().len();
    let all = bench_card_pages(&cards, Paper::A4).expect("set");
    assert_eq!(all.pages().len(), 3 * one);
    for (index, card) in cards.iter().enumerate() {
        let first = look(&all.pages()[index * one].frame);
        assert!(first.words.iter().any(|words| words.text == card.piece));
    }
}
