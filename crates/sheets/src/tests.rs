//! Sheets looked at through the frames that become the PDF: true size, type
//! sizes, nothing outside the page, nothing on top of anything else.

use typst::layout::{Frame, FrameItem, Point, Transform};
use typst_layout::PagedDocument;

use super::*;

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
fn check_page(page: &Frame, what: &str) {
    let found = look(page);
    let (width, height) = (page.width().to_mm(), page.height().to_mm());
    for words in &found.words {
        assert!(words.left >= layout::MARGIN_MM - 0.1, "{what}: {words:?} starts in the margin");
        assert!(words.right <= width - layout::MARGIN_MM + 0.1, "{what}: {words:?} runs into the margin");
        assert!(words.baseline <= height - 5.0, "{what}: {words:?} runs off the foot");
        assert!(words.size_pt >= 8.999, "{what}: {words:?} is smaller than 9 pt");
    }
    for words in found.pictures.iter().flat_map(|picture| &picture.words) {
        assert!(words.size_pt >= 8.999 && words.left >= layout::MARGIN_MM - 0.1, "{what}: {words:?}");
        assert!(words.right <= width - layout::MARGIN_MM + 0.1, "{what}: {words:?} runs into the margin");
    }
    for picture in &found.pictures {
        no_words_on_words(&picture.words, what);
        assert!(picture.left >= layout::MARGIN_MM - 0.1 && picture.top >= 0.0, "{what}: a picture in the margin");
        assert!(picture.left + picture.width <= width - layout::MARGIN_MM + 0.1, "{what}: a picture in the margin");
        let is_bar = picture.words.is_empty() && near(picture.width, 100.0);
        assert!(is_bar || picture.top + picture.height <= height - 14.0, "{what}: a picture runs off the foot");
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
                check_page(&page.frame, what);
            }
        }
        let plan = cut_plan_pages(&sample::plan(), paper).expect("set");
        let lines = line_table_pages(&sample::lines(), paper).expect("set");
        for page in plan.pages().iter().chain(lines.pages()) {
            check_page(&page.frame, "plan or lines");
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
    assert!(size(&card.cut_length) >= 25.9);
    for mark in &card.ends[0].layout.marks {
        assert!(size(&mark.at_text) >= 13.9, "mark {} is set in {} pt", mark.number, size(&mark.at_text));
    }
    // The first number on the page is the largest.
    let largest = words.iter().map(|words| words.size_pt).fold(0.0, f64::max);
    assert!(near(size(&card.cut_length), largest));
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
        "masthead sheave",
        "72 × d",
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
