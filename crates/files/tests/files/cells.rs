//! Spreadsheets: rows, cells, quotes, separators, and a second reader beside ours.

use files::{Read, Source, StrengthBasis, read_pieces, read_rack, read_ropes};
use proptest::prelude::*;

fn found<T>(text: &str, read: &Read<T>) -> Vec<(usize, usize, &'static str)> {
    let source = Source::new("file.csv", text.as_bytes());
    let place = |problem: &files::Problem| problem.place.map(|place| source.position(place));
    let at = |problem| place(problem).map_or((0, 0), |position| (position.line, position.column));
    read.problems.iter().map(|problem| (at(problem).0, at(problem).1, problem.code)).collect()
}

fn rack(text: &str, expected: &[(usize, usize, &str)]) {
    assert_eq!(found(text, &read_rack(text.as_bytes())), expected, "{text}");
}

#[test]
fn columns() {
    rack("reel,rope,length\nA,x,3 m\n", &[]);
    rack("length,reel,rope\n3 m,A,x\n", &[]);
    rack("reel,rope\nA,x\nB,y\n", &[(1, 1, "missing-key")]);
    rack("reel,rope,lenght\nA,x,3 m\n", &[(1, 11, "unknown-key")]);
    rack("reel,rope,length,reel\nA,x,3 m,B\n", &[(1, 18, "duplicate-key")]);
    rack("reel,rope,length,\nA,x,3 m,\n", &[(1, 18, "unknown-key")]);
    rack("reel;rope;length\nA;x;3 m\n", &[(1, 1, "separator")]);
    rack("reel\trope\tlength\nA\tx\t3 m\n", &[(1, 1, "separator")]);
}

#[test]
fn rows() {
    rack("reel,rope,length\n\nA,x,3 m\n,,\n", &[]);
    rack("reel,rope,length\nA,x\nB,y,3\n", &[(2, 1, "cell-count"), (3, 5, "no-unit")]);
    rack("reel,rope,length\nA,x,3 m,\n", &[(2, 1, "cell-count")]);
    rack("reel,rope,length\nA,,3 m\n", &[(2, 3, "missing-key")]);
    rack("reel,rope,length\nA,x,3 m\na,x,4 m\n", &[(3, 1, "duplicate-name")]);
}

#[test]
fn cells_and_quotes() {
    rack("reel,rope,length\nA,\"x, y\",3 m\n", &[]);
    rack("reel,rope,length\nA,x \"y\",12' 6\"\n", &[]);
    rack("reel,rope,length\nA,\"x,3 m\nB,y,4\n", &[(2, 3, "quote"), (3, 5, "no-unit")]);
    rack("reel,rope,length\nA,\"x\"y,3 m\n", &[(2, 6, "quote")]);
    rack("reel,rope,length,colour\nA,x,3 m,=1+2\n", &[]);
    rack("reel,rope,length,colour\nA,\"Möwe\",3,@x\n", &[(2, 10, "no-unit")]);
}

#[test]
fn a_cell_that_looks_like_a_formula_is_text() {
    let read = read_rack("reel,rope,length\n=HYPERLINK(1),+x,3 m\n".as_bytes()).complete().expect("no problem");
    assert_eq!((read[0].value.reel.value.as_str(), read[0].value.rope.value.as_str()), ("=HYPERLINK(1)", "+x"));
}

#[test]
fn reels() {
    let head = "reel,rope,length,count,remnant,price_per_metre,flaws\n";
    rack(&format!("{head}A,x,30 m,2,TRUE,4.20 EUR,12.0 m..12.4 m;20 m..21 m\n"), &[]);
    rack(&format!("{head}A,x,30 m,2.5,true,,\n"), &[(2, 10, "not-a-number")]);
    rack(&format!("{head}A,x,30 m,0,true,,\n"), &[(2, 10, "out-of-range")]);
    rack(&format!("{head}A,x,30 m,1,yes,,\n"), &[(2, 12, "wrong-type")]);
    rack(&format!("{head}A,x,30 m,1,,4.20,\n"), &[(2, 13, "not-a-price")]);
    rack(&format!("{head}A,x,30 m,1,,\"4,20 EUR\",\n"), &[(2, 13, "not-a-price")]);
    rack(&format!("{head}A,x,30 m,1,,,12 m..11 m\n"), &[(2, 14, "contradiction")]);
    rack(&format!("{head}A,x,30 m,1,,,1 m..2 m; 29 m..31 m\n"), &[(2, 24, "contradiction")]);
    rack(&format!("{head}A,x,30 m,1,,,12 m\n"), &[(2, 14, "not-a-stretch")]);
    rack(&format!("{head}A,x,9 km,1,,,\n"), &[(2, 5, "wrong-unit")]);
}

#[test]
fn ropes() {
    let head =
        "name,construction,fibre,diameter,strength,strength_basis,linear_density,core_diameter,core_linear_density\n";
    let ropes = |row: &str| {
        let text = format!("{head}{row}\n");
        found(&text, &read_ropes(text.as_bytes()))
    };
    assert_eq!(ropes("a,double-braid-core,hmpe,10 mm,40 kN,spliced,74 g/m,7 mm,28 g/m"), []);
    assert_eq!(ropes("a,12-strand,hmpe,10 mm,40 kN,spliced,74 g/m,7 mm,"), [(2, 45, "contradiction")]);
    assert_eq!(ropes("a,double-braid,polyester,10 mm,24 kN,average,74 g/m,10 mm,"), [(2, 53, "contradiction")]);
    assert_eq!(ropes("a,double-braid,polyester,10 mm,24 kN,average,74 g/m,,75 g/m"), [(2, 54, "contradiction")]);
    assert_eq!(
        ropes("a,12 strand,hmpe,10 mm,4000 kg,spliced,74 g/m,,"),
        [(2, 3, "unknown-word"), (2, 24, "wrong-unit")]
    );
    let read = read_ropes(format!("{head}a,8-plait,polyamide,12 mm,\"6,000 lbf\",unknown,80 g/m,,\n").as_bytes());
    let read = read.complete().expect("no problem");
    assert_eq!(read[0].value.strength_basis.value, StrengthBasis::Unknown);
    assert_eq!(read[0].value.strength.value.to_lbf().round(), 6000.0);
}

#[test]
fn pieces() {
    let text = "piece,rope,length,count,batch_set,pair,rush\nsheet,x,12 m,2,,p,true\n";
    let read = read_pieces(text.as_bytes()).complete().expect("no problem");
    assert_eq!((read[0].value.count.value, read[0].value.rush.value), (2, true));
    assert_eq!(read[0].value.pair.as_ref().map(|pair| pair.value.as_str()), Some("p"));
}

proptest! {
    /// Ours and the general-purpose reader see the same cells in a well-formed file.
    #[test]
    fn the_same_cells_as_another_reader(
        rows in prop::collection::vec(prop::collection::vec("[a-zä,;\"=' ]{0,8}[a-z]", 3), 1..10),
        quote_all in any::<bool>(),
    ) {
        let style = if quote_all { csv::QuoteStyle::Always } else { csv::QuoteStyle::Necessary };
        let mut writer = csv::WriterBuilder::new().quote_style(style).from_writer(Vec::new());
        writer.write_record(["reel", "rope", "colour", "length"]).expect("written");
        for (number, row) in rows.iter().enumerate() {
            let cells = [format!("{number} {}", row[0]), row[1].clone(), row[2].clone(), "3 m".to_owned()];
            writer.write_record(&cells).expect("written");
        }
        let bytes = writer.into_inner().expect("written");
        let ours = read_rack(&bytes).complete().expect("no problem");
        let theirs: Vec<csv::StringRecord> = csv::Reader::from_reader(&bytes[..]).records().map(|row| row.expect("read")).collect();
        prop_assert_eq!(ours.len(), theirs.len());
        for (ours, theirs) in ours.iter().zip(&theirs) {
            prop_assert_eq!(&ours.value.reel.value, theirs[0].trim());
            prop_assert_eq!(&ours.value.rope.value, theirs[1].trim());
            prop_assert_eq!(&ours.value.colour.as_ref().expect("given").value, theirs[2].trim());
        }
    }
}
