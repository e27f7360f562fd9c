//! Orders whose boat, leads, ropes or old lines contradict themselves, each told
//! at its place; and what an order's own words change.

use desk::{LinesAnswer, LinesRequest, Problem, Text};

const SLOOP: &str = include_str!("../../../../examples/sloop/order.toml");
const ROPES: &str = include_str!("../../../../examples/sloop/ropes.csv");
const SMACK: &str = include_str!("../../../../examples/smack/order.toml");

fn asked(order: String, ropes: &str) -> Result<LinesAnswer, Problem> {
    let ropes = Some(Text::held("the rope list", ropes));
    desk::lines(&LinesRequest { order: Text::held("the order", order), ropes, ..LinesRequest::default() })
}

/// The sloop with one text put for another, once.
fn sloop(from: &str, to: &str) -> String {
    assert!(SLOOP.contains(from), "{from}");
    SLOOP.replacen(from, to, 1)
}

/// What was told, and the text at the place.
fn refused(from: &str, to: &str) -> (String, String) {
    let order = sloop(from, to);
    let problem = asked(order.clone(), ROPES).unwrap_err();
    let mistake = problem.mistakes.first().unwrap_or_else(|| panic!("{problem:?}"));
    let place = mistake.place.as_ref().unwrap();
    let line = order.lines().nth(place.line - 1).unwrap().to_owned();
    (mistake.message.clone(), line)
}

#[test]
fn contradictory_geometry_is_told_where_it_stands() {
    let (message, line) = refused("BAS = \"1.55 m\"", "BAS = \"-200 mm\"");
    assert!(message.contains("out of range") && line.starts_with("BAS"), "{message} {line}");
    let (message, line) = refused("P = \"13.40 m\"", "P = \"-13.40 m\"");
    assert!(message.contains("out of range") && line.starts_with("P ="), "{message} {line}");
    let (message, line) = refused("[\"140 mm\", \"0 mm\", \"15.00 m\"]", "[\"140 mm\", \"0 mm\", \"-15.00 m\"]");
    assert!(message.contains("below the deck") && line.contains("masthead sheave, aft"), "{message} {line}");
    let (message, line) =
        refused("at = [\"2.20 m\", \"500 mm\", \"250 mm\"]", "at = [\"750 mm\", \"410 mm\", \"12 m\"]");
    assert!(message.contains("doubles back") && line.contains("clutch, starboard"), "{message} {line}");
    let (message, line) = refused("min_rope = \"8 mm\"", "min_rope = \"13 mm\"");
    assert!(message.contains("13 mm and more") && line.contains("clutch, starboard"), "{message} {line}");
    let (message, _) = refused("groove = \"14 mm\"", "groove = \"14 mm\", min_rope = \"8 mm\"");
    assert!(message.contains("holds no rope"), "{message}");
    let (message, _) = refused("max_rope = \"12 mm\", min_rope = \"8 mm\"", "groove = \"12 mm\"");
    assert!(message.contains("has no groove"), "{message}");
}

/// Rows of the list with one more.
fn with_row(row: &str) -> String {
    format!("{}\n{row}\n", ROPES.trim_end())
}

#[test]
fn a_rope_list_that_cannot_be_is_told_at_its_row_with_the_band() {
    let rows: Vec<&str> = ROPES.lines().collect();
    let row = rows.iter().position(|row| row.starts_with("Loft S12-6")).unwrap();
    let again = asked(SLOOP.to_owned(), &with_row(rows[row])).unwrap_err();
    let place = again.mistakes[0].place.as_ref().unwrap();
    assert_eq!((place.file.as_str(), place.line), ("the rope list", rows.len() + 1), "{again:?}");
    assert!(again.mistakes[0].message.contains("Loft S12-6"), "{again:?}");
    // A strength with one nought more, in the row where it stands.
    let strength = rows[0].split(',').position(|column| column == "strength").unwrap();
    let cells: Vec<String> = rows[row]
        .split(',')
        .enumerate()
        .map(|(index, cell)| if index == strength { cell.replacen(' ', "0 ", 1) } else { cell.to_owned() })
        .collect();
    let list = ROPES.replace(rows[row], &cells.join(","));
    let impossible = asked(SLOOP.to_owned(), &list).unwrap_err();
    let mistake = &impossible.mistakes[0];
    assert_eq!(mistake.place.as_ref().unwrap().line, row + 1, "{mistake:?}");
    assert!(mistake.message.contains("1.17") && mistake.message.contains("1.30"), "the band: {}", mistake.message);
}

#[test]
fn a_line_brought_in_keeps_its_rope_ends_and_marks() {
    let copied = |body: &str| {
        let line = format!("\n[[line]]\nname = \"old halyard\"\nkind = \"main-halyard\"\n{body}\n");
        asked(format!("{SLOOP}{line}"), ROPES)
    };
    let old = "copied_from = { length = \"30 m\", tension = \"200 N\", rope = \"Loft PB-10\", \
               marks = [{ name = \"hoisted\", at = \"12 m\" }], \
               ends = { working = { kind = \"core-and-cover-eye\", on = \"14 mm ring\" } }, KEEP }";
    let kept = copied(&old.replace("KEEP", "keep = [\"rope\", \"ends\", \"marks\"]")).unwrap();
    let line = kept.lines.last().unwrap();
    assert_eq!((line.rope.name.as_str(), line.ends[0].kind), ("Loft PB-10", "core-and-cover-eye"));
    assert_eq!(line.marks[0].name, "hoisted");
    // 200 N stretch the old rope a little: at reference tension it is shorter, and the mark with it.
    let length = |text: &desk::Amount| text.value;
    assert!(length(&line.finished_length) < 30_000.0 && length(&line.finished_length) > 29_900.0);
    assert!((length(&line.marks[0].at) / length(&line.finished_length) - 0.4).abs() < 1e-4);
    // Kept and given anew, or kept without having been: both are told.
    let both = copied(&format!("rope = \"Loft PB-10\"\n{}", old.replace("KEEP", "keep = [\"rope\"]"))).unwrap_err();
    assert!(both.mistakes[0].message.contains("kept from the old line and given anew"), "{both:?}");
    let none = copied("copied_from = { length = \"30 m\", tension = \"200 N\", keep = [\"marks\"] }").unwrap_err();
    assert!(none.mistakes[0].message.contains("\"marks\" is kept"), "{none:?}");
    let beyond = copied(&old.replace("12 m", "31 m").replace("KEEP", "keep = [\"marks\"]")).unwrap_err();
    assert!(beyond.mistakes[0].message.contains("beyond the old line's end"), "{beyond:?}");
    // A length alone says nothing; slack is said to be slack.
    let alone = copied("copied_from = { length = \"30 m\" }").unwrap_err();
    assert!(alone.mistakes[0].message.contains("tension"), "{alone:?}");
    let slack = copied("rope = \"Loft PB-10\"\ncopied_from = { length = \"30 m\", tension = \"slack\" }");
    let told =
        slack.map(|answer| answer.lines.last().unwrap().findings.iter().map(|one| one.code.to_owned()).collect());
    let told: Vec<String> =
        told.unwrap_or_else(|problem| problem.mistakes.iter().map(|one| one.code.to_owned()).collect());
    assert!(told.iter().any(|code| code.contains("slack")), "{told:?}");
}

#[test]
fn a_lofts_own_coefficients_are_taken_whole_and_told() {
    let folder = tempfile::tempdir().unwrap();
    let own = |rows: &str| {
        std::fs::write(folder.path().join("own.csv"), rows).unwrap();
        std::fs::write(folder.path().join("ropes.csv"), ROPES).unwrap();
        let order = sloop("[sails.main]", "[sails]\ncoefficients = \"own.csv\"\n\n[sails.main]");
        std::fs::write(folder.path().join("order.toml"), order).unwrap();
        desk::lines(&LinesRequest { order: folder.path().join("order.toml").into(), ..LinesRequest::default() })
    };
    let rows = |lift: f64| {
        let mut text = "sail,apparent,lift,drag\n".to_owned();
        for sail in ["main", "jib", "symmetric", "asymmetric"] {
            for angle in [0, 40, 90, 180] {
                text.push_str(&format!("{sail},{angle} deg,{},0.3\n", lift * if angle == 180 { 0.1 } else { 1.0 }));
            }
        }
        text
    };
    let (weak, strong) = (own(&rows(0.5)).unwrap(), own(&rows(0.6)).unwrap());
    assert!(weak.coefficients.contains("own.csv"), "{}", weak.coefficients);
    let sheet =
        |answer: &LinesAnswer| answer.lines.iter().find(|line| line.name == "jib sheet").unwrap().load.steady.value;
    assert!(sheet(&strong) > sheet(&weak));
    // A set is taken whole or not at all.
    let part = own("sail,apparent,lift,drag\nmain,0 deg,0.5,0.1\nmain,180 deg,0.1,1.2\n").unwrap_err();
    assert!(format!("{part:?}").contains("jib"), "{part:?}");
    let backwards = own(&rows(0.5).replacen("main,40 deg", "main,95 deg", 1)).unwrap_err();
    assert!(backwards.mistakes[0].place.as_ref().unwrap().file.contains("own.csv"), "{backwards:?}");
}

#[test]
fn a_cover_left_to_the_rules_is_settled_and_its_core_filled() {
    let answer = asked(SLOOP.to_owned(), ROPES).unwrap();
    let foreguy = answer.lines.iter().find(|line| line.name == "foreguy").unwrap();
    let added = &foreguy.added[0];
    assert_eq!((added.what, added.thickness.value), ("filled core", 9.0));
    let cam = foreguy.lead.as_ref().unwrap().turns.last().unwrap().fit.as_ref().unwrap();
    assert_eq!((cam.verdict, cam.thickness.value), ("fits, thickened", 9.0));
    let told = |line: &desk::LineAnswer, code: &str| line.findings.iter().any(|finding| finding.code == code);
    assert!(told(foreguy, "cover-settled") && told(foreguy, "more-cover"));
    // Without the wish it slips, and the card is refused.
    let kept = asked(sloop("cover = \"choose\"", "cover = \"keep\""), ROPES).unwrap();
    let foreguy = kept.lines.iter().find(|line| line.name == "foreguy").unwrap();
    assert!(told(foreguy, "slips-in-jaws") && foreguy.grade == Some("stop"));
    // Left open, the end goes with the cover: the rules bare a racer's sheet in light air.
    let sheet = SLOOP.replacen(
        "ends = { working = { kind = \"bare-core-eye\", on = \"12 mm shackle\", eye = \"40 mm\" }, bitter = { kind = \"whipped-end\" } }\ncover = \"strip\"\nstrip = { from = \"0 mm\", to = \"6 m\" }",
        "cover = \"choose\"",
        1,
    );
    let chosen = asked(sheet, ROPES).unwrap();
    let sheet = chosen.lines.iter().find(|line| line.name == "spinnaker sheet").unwrap();
    assert_eq!(sheet.ends[0].kind, "bare-core-eye", "{:?}", sheet.findings);
    assert!(sheet.cover.as_ref().unwrap().contains("comes off for"));
}

#[test]
fn the_inland_rules_are_held_against_a_traditional_vessel() {
    let answer = asked(SMACK.to_owned(), ROPES).unwrap();
    let codes = |name: &str| -> Vec<String> {
        let line = answer.lines.iter().find(|line| line.name == name).unwrap();
        line.findings.iter().map(|one| one.code.to_owned()).filter(|code| code.contains("inland")).collect()
    };
    for name in ["peak halyard", "throat halyard", "mainsheet", "foresail halyard"] {
        assert_eq!(codes(name), ["inland-met"], "{name}");
    }
    assert_eq!(codes("foresail sheet"), ["inland-hauling"]);
    assert_eq!(codes("topsail halyard"), ["inland-polyethylene"]);
    // 92 m2 of main ask for four sheaves at 30 m2 each and 18 mm of polypropylene.
    let changed = |from: &str, to: &str| {
        assert!(SMACK.contains(from), "{from}");
        let answer = asked(SMACK.replacen(from, to, 1), ROPES).unwrap();
        let line = answer.lines.into_iter().find(|line| line.name == "peak halyard").unwrap();
        line.findings.into_iter().map(|one| one.code.to_owned()).find(|code| code.contains("inland")).unwrap()
    };
    assert_eq!(changed("purchase = 4", "purchase = 3"), "inland-sheaves");
    assert_eq!(changed("24 mm 3-strand polypropylene", "16 mm 3-strand polypropylene"), "below-inland-minimum");
    // Where the rules do not hold, nothing is said of them.
    let free = asked(SMACK.replacen("rules = \"inland-traditional\"\n", "", 1), ROPES).unwrap();
    assert!(free.lines.iter().flat_map(|line| &line.findings).all(|finding| !finding.code.contains("inland")));
}

#[test]
fn every_column_of_a_line_list_is_in_the_book() {
    let page = include_str!("../../../../docs/files.md");
    for column in desk::line_list_columns() {
        let row = format!("| {} | {} | {} |", column.column, column.needed, column.about);
        assert!(page.contains(&row), "{row}");
    }
}
