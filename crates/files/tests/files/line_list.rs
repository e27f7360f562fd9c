//! Line lists: out and in again without loss, rows refused and kept.

use files::{
    CoverWish, Date, Duty, EndKind, LineKind, LineRow, Place, Placed, Word, line_list_csv, line_list_description,
    line_list_xlsx, line_tables, read_line_list, read_line_list_xlsx,
};
use proptest::prelude::*;

fn at<T>(value: T) -> Placed<T> {
    Placed { value, place: Place { start: 0, end: 0 } }
}

/// Text as a rigger or a mischief-maker types it: formulas, quotes, commas, no
/// spaces at its ends.
fn own_text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[=+@'-][A-Z]{1,3}\\([A-Z0-9:,;\"' ]{0,12}\\)",
        "[a-zA-Zäß0-9][a-zA-Z0-9 ,;\"'=+@.äß-]{0,30}[a-z0-9]",
        "'{1,3}[a-z]{1,5}",
    ]
    .prop_filter("no space at its ends", |text| text.trim() == text && !text.is_empty())
}

fn word<T: Word + Clone + std::fmt::Debug + 'static>(words: &'static [&'static str]) -> impl Strategy<Value = T> {
    prop::sample::select(words).prop_map(|word| T::from_word(word).unwrap())
}

fn row() -> impl Strategy<Value = LineRow> {
    let number = |low: f64, high: f64| prop::option::of(low..high);
    let flags = (any::<bool>(), any::<bool>());
    let words = (
        word::<LineKind>(LineKind::WORDS),
        word::<Duty>(Duty::WORDS),
        prop::option::of(word::<EndKind>(EndKind::WORDS)),
        prop::option::of(word::<EndKind>(EndKind::WORDS)),
        prop::option::of(word::<CoverWish>(CoverWish::WORDS)),
    );
    let texts = (own_text(), prop::option::of(own_text()), prop::option::of(own_text()), prop::option::of(own_text()));
    let counts = (1u32..=50, 1u32..=64, prop::option::of((2000u16..2100, 1u8..=12, 1u8..=28)));
    let numbers = (50.0..500_000.0f64, number(50.0, 1e6), number(1.0, 1e6), number(3.0, 5000.0), number(0.0, 4e5));
    (flags, words, texts, counts, numbers).prop_map(|(flags, words, texts, counts, numbers)| {
        let (kind, duty, working, bitter, cover) = words;
        let (line, rope, colour, notes) = texts;
        let (length, cut, steady, eye, from) = numbers;
        LineRow {
            line: at(line),
            kind: at(kind),
            duty: at(duty),
            count: at(counts.0),
            rope: rope.map(at),
            colour: colour.map(at),
            purchase: at(counts.1),
            length: at(length),
            cut: cut.map(at),
            steady: steady.map(at),
            peak: steady.map(|steady| at((steady * 1.1).min(1e6))),
            working_on: working.as_ref().map(|_| at("12.5 mm pin".to_owned())),
            working_end: working.map(at),
            working_eye: eye.map(at),
            bitter_end: bitter.map(at),
            bitter_on: None,
            bitter_eye: eye.map(at),
            cover: cover.map(at),
            strip_from: from.map(at),
            strip_to: from.map(|from| at(from + 0.125)),
            rush: at(flags.0),
            due: counts.2.map(|(year, month, day)| at(Date { year, month, day })),
            same_reel: at(flags.1),
            notes: notes.map(at),
        }
    })
}

fn unique_rows() -> impl Strategy<Value = Vec<LineRow>> {
    prop::collection::vec(row(), 0..6).prop_map(|mut rows| {
        for (index, row) in rows.iter_mut().enumerate() {
            row.line.value.push_str(&format!(" {index}"));
        }
        rows
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Every cell comes back as it was, digit for digit, as CSV and as xlsx.
    #[test]
    fn a_list_comes_back_without_loss(rows in unique_rows()) {
        let cells = |rows: &[LineRow]| rows.iter().map(LineRow::cells).collect::<Vec<_>>();
        let csv = line_list_csv(&rows);
        let again = read_line_list(csv.as_bytes()).unwrap();
        prop_assert_eq!(&again.refused, &Vec::new(), "{}", csv);
        prop_assert_eq!(cells(&again.rows), cells(&rows));
        let sheet = line_list_xlsx(&rows).unwrap();
        let again = read_line_list_xlsx(&sheet).unwrap();
        prop_assert_eq!(&again.refused, &Vec::new());
        prop_assert_eq!(cells(&again.rows), cells(&rows));
        // No cell of the CSV would be run as a formula.
        let mut table = csv::Reader::from_reader(csv.as_bytes());
        for row in table.records() {
            let row = row.unwrap();
            prop_assert!(!row.iter().any(|cell| cell.starts_with(['=', '+', '@'])), "{:?}", row);
        }
    }

    /// The lines of a list are the lines of an order.
    #[test]
    fn a_list_is_lines_of_an_order(rows in unique_rows()) {
        let mut rows = rows;
        for row in &mut rows {
            // What one line of an order contradicts is not the list's to allow.
            row.cover = None;
            row.same_reel.value = row.same_reel.value && row.count.value > 1;
            if row.working_end.is_none() { row.working_eye = None; }
            if row.bitter_end.is_none() { row.bitter_eye = None; }
        }
        let order = format!("{}\n{}", super::SMALLEST, line_tables(&rows));
        let read = files::read_order(order.as_bytes());
        prop_assert!(read.problems.is_empty(), "{:?}\n{}", read.problems, order);
        let lines = read.record.unwrap().line;
        let extra = lines.len() - rows.len();
        for (line, row) in lines.iter().skip(extra).zip(&rows) {
            prop_assert_eq!(&line.value.name.value, &row.line.value);
            let length = line.value.length.as_ref().unwrap().value;
            prop_assert!((length.to_mm() - row.length.value).abs() < 1e-9 * row.length.value);
        }
    }
}

#[test]
fn a_row_with_a_mistake_is_refused_with_its_number_and_kept() {
    let list = "line,kind,length (mm),peak load (N),steady load (N)\n\
                vang,vang,12000,900,800\n\
                guy,guys,16500,,\n\
                \n\
                sheet,jib-sheet,16 m,,\n\
                Vang,vang,12000,,\n\
                lift,topping-lift,9000,100,200\n\
                reef,reef-line-slab,21000,,\n";
    let read = read_line_list(list.as_bytes()).unwrap();
    let names: Vec<&str> = read.rows.iter().map(|row| row.line.value.as_str()).collect();
    assert_eq!(names, ["vang", "reef"]);
    let refused: Vec<usize> = read.refused.iter().map(|row| row.row).collect();
    assert_eq!(refused, [3, 5, 6, 7]);
    assert!(read.refused[0].reasons[0].contains("guys"), "{:?}", read.refused[0]);
    assert_eq!(read.refused[1].text, "sheet,jib-sheet,16 m,,");
    assert!(read.refused.iter().all(|row| row.headings.starts_with("line,kind")));
    // The headings are one mistake for all rows.
    assert!(read_line_list(b"line,kind,length\nvang,vang,12000\n").is_err());
    assert!(read_line_list_xlsx(b"no spreadsheet").is_err());
}

#[test]
fn a_sheet_from_other_hands_loses_no_cell() {
    use rust_xlsxwriter::{Formula, Workbook};
    let book = |fill: &dyn Fn(&mut rust_xlsxwriter::Worksheet)| {
        let mut book = Workbook::new();
        book.add_worksheet().set_name("notes").unwrap().write_string(0, 0, "call him back").unwrap();
        let sheet = book.add_worksheet().set_name("list").unwrap();
        for (column, heading) in (0u16..).zip(["line", "kind", "length (mm)", "steady load (N)"]) {
            sheet.write_string(0, column, heading).unwrap();
        }
        for (row, name) in (1u32..).zip(["vang", "guy", "lift"]) {
            sheet.write_string(row, 0, name).unwrap();
            sheet.write_string(row, 1, "vang").unwrap();
            sheet.write_number(row, 2, 12_000.0).unwrap();
        }
        fill(sheet);
        book.save_to_buffer().unwrap()
    };
    // The list is found on the second sheet; a formula counts by its value.
    let read = read_line_list_xlsx(&book(&|sheet| {
        sheet.write_formula(2, 2, Formula::new("=12*1100").set_result("13200")).unwrap();
    }))
    .unwrap();
    assert_eq!((read.rows.len(), read.rows[1].length.value), (3, 13_200.0));
    // Without a value, or in error, its row is refused, though the cell may be left empty.
    let read = read_line_list_xlsx(&book(&|sheet| {
        sheet.write_formula(3, 3, Formula::new("=1/0").set_result("#DIV/0!")).unwrap();
    }))
    .unwrap();
    assert_eq!((read.rows.len(), read.refused[0].row), (2, 4));
    assert!(read.refused[0].reasons[0].contains("error"), "{:?}", read.refused[0]);
    // Made by a program that writes formulas and works none out.
    let read = read_line_list_xlsx(include_bytes!("formula-without-value.xlsx")).unwrap();
    assert_eq!(read.rows.iter().map(|row| row.line.value.as_str()).collect::<Vec<_>>(), ["guy"]);
    assert_eq!(read.refused[0].row, 2);
    assert!(read.refused[0].reasons[0].contains("without its value"), "{:?}", read.refused[0]);
    assert!(read.refused[0].text.contains("9*100"), "kept for repair: {}", read.refused[0].text);
    // Cells of one block that were drawn together leave the others empty.
    let read = read_line_list_xlsx(&book(&|sheet| {
        sheet.merge_range(1, 0, 2, 0, "vang", &rust_xlsxwriter::Format::new()).unwrap();
    }))
    .unwrap();
    assert_eq!((read.rows.len(), read.refused[0].row), (2, 3));
    // A cell far below is refused before room is made for what lies between.
    let far = book(&|sheet| {
        sheet.write_string(1_048_575, 0, "far").unwrap();
    });
    let problems = read_line_list_xlsx(&far).unwrap_err();
    assert!(problems[0].message.contains("1048576"), "{problems:?}");
    // A heading in another unit names the sheet and the columns there are.
    let problems = read_line_list_xlsx(&book(&|sheet| {
        sheet.write_string(0, 2, "length (m)").unwrap();
    }))
    .unwrap_err();
    assert!(
        problems[0].message.contains("sheet \"list\"") && problems[0].allowed.contains("length (mm)"),
        "{problems:?}"
    );
}

#[test]
fn every_number_of_a_list_has_its_unit_in_its_heading() {
    for field in line_list_description().fields {
        let number = matches!(field.shape, files::Shape::Number { whole: false, .. });
        assert_eq!(number, field.key.ends_with("(mm)") || field.key.ends_with("(N)"), "{}", field.key);
        assert!(!field.about.is_empty());
    }
    assert_eq!(LineRow::headings().len(), line_list_description().fields.len());
}
