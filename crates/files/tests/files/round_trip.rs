//! Orders with random content, written in random units, give back what went in.

use files::{CoverWish, EndKind, LineKind, RigKind, UseKind, read_order, read_rack};
use proptest::prelude::*;
use units::Length;

/// A length in whole tenths of a millimetre and one way to write it.
fn length(low_mm: i64, high_mm: i64) -> impl Strategy<Value = (f64, String)> {
    (low_mm * 10..=high_mm * 10, 0..4u8).prop_map(|(tenths, way)| {
        let mm = tenths as f64 / 10.0;
        let text = match way {
            0 => format!("{mm} mm"),
            1 => format!("{:.5} m", mm / 1000.0),
            2 => format!("{:.3}  cm", mm / 10.0),
            _ => format!("{:.7} in", mm / 25.4),
        };
        (mm, text)
    })
}

fn close(found: Length, mm: f64) -> bool {
    (found.to_mm() - mm).abs() < 0.001
}

#[derive(Debug, Clone)]
struct Line {
    name: String,
    kind: LineKind,
    count: u32,
    length: Option<(f64, String)>,
    points: Vec<[(f64, String); 3]>,
    end: EndKind,
    cover: CoverWish,
    rush: bool,
}

prop_compose! {
    fn line()(
        name in "[A-Za-z][A-Za-z0-9 ,.'äöé-]{0,20}[a-z]",
        kind in prop::sample::select(LineKind::WORDS),
        count in 1..=50u32,
        length in prop::option::of(length(50, 500_000)),
        points in prop::collection::vec([length(-9000, 9000), length(-3000, 3000), length(0, 20_000)], 0..5),
        end in prop::sample::select(EndKind::WORDS),
        cover in prop::sample::select(vec![CoverWish::Keep, CoverWish::Choose]),
        rush in any::<bool>(),
    ) -> Line {
        let (kind, end) = (LineKind::from_word(kind).unwrap(), EndKind::from_word(end).unwrap());
        Line { name, kind, count, length, points, end, cover, rush }
    }
}

fn written(line: &Line, number: usize, inline: bool) -> String {
    let mut text = format!("[[line]]\nname = \"{number} {}\"\nkind = '{}'\n", line.name, line.kind.word());
    text += &format!("count = {}\nrush = {}\ncover = \"{}\"\n", line.count, line.rush, line.cover.word());
    if let Some((_, length)) = &line.length {
        text += &format!("length = \"{length}\"   # as asked\n");
    }
    if inline {
        text += &format!("ends = {{ working = {{ kind = \"{}\" }} }}\n", line.end.word());
    } else {
        text += &format!("ends.working.kind = \"{}\"\n", line.end.word());
    }
    let point = |[x, y, z]: &[(f64, String); 3]| format!("[\"{}\", \"{}\",\n \"{}\"]", x.1, y.1, z.1);
    let points: Vec<_> =
        line.points.iter().map(|at| format!("  {{ name = \"x\", on = \"cam\", at = {} }},\n", point(at))).collect();
    text + &format!("lead = [\n{}]\n", points.concat())
}

proptest! {
    #[test]
    fn an_order(
        lines in prop::collection::vec(line(), 0..6),
        loa in length(1500, 60_000),
        rig in prop::sample::select(RigKind::WORDS),
        usage in prop::sample::select(UseKind::WORDS),
        roach in 80..=160u32,
        sag in 5..=300u32,
        inline in any::<bool>(),
        crlf in any::<bool>(),
        mark in any::<bool>(),
    ) {
        let mut text = format!(
            "becket = 1\n[order]\nnumber = \"7\"\ndate = 2026-03-31\n[boat]\nname = \"Tern\"\nhull = \"multihull\"\nrig = \"{rig}\"\nloa = \"{}\"\n[use]\nkind = \"{usage}\"\n[sails]\nmain = {{ roach = {}, leech_sag = \"{} %\" }}\n",
            loa.1, f64::from(roach) / 100.0, f64::from(sag) / 10.0,
        );
        for (number, line) in lines.iter().enumerate() {
            text += &written(line, number, inline);
        }
        if crlf {
            text = text.replace('\n', "\r\n");
        }
        if mark {
            text.insert(0, '\u{feff}');
        }
        let order = read_order(text.as_bytes()).complete().expect("no problem");
        prop_assert!(close(order.boat.value.loa.value, loa.0));
        prop_assert_eq!(order.boat.value.rig.value.word(), rig);
        prop_assert_eq!(order.usage.value.kind.value.word(), usage);
        let main = order.sails.unwrap().value.main.unwrap().value;
        prop_assert!((main.roach.unwrap().value - f64::from(roach) / 100.0).abs() < 1e-12);
        prop_assert!((main.leech_sag.unwrap().value.fraction - f64::from(sag) / 1000.0).abs() < 1e-12);
        prop_assert_eq!(order.line.len(), lines.len());
        for (number, (read, line)) in order.line.iter().zip(&lines).enumerate() {
            let read = &read.value;
            prop_assert_eq!(&read.name.value, &format!("{number} {}", line.name));
            // The place is the text itself, quotes and all.
            prop_assert_eq!(&text[read.name.place.start..read.name.place.end], format!("\"{}\"", read.name.value));
            prop_assert_eq!(read.kind.value, line.kind);
            prop_assert_eq!((read.count.value, read.rush.value), (line.count, line.rush));
            prop_assert_eq!(read.cover.as_ref().unwrap().value, line.cover);
            prop_assert_eq!(read.ends.as_ref().unwrap().value.working.as_ref().unwrap().value.kind.value, line.end);
            prop_assert_eq!(read.length.is_some(), line.length.is_some());
            if let (Some(read), Some((mm, _))) = (&read.length, &line.length) {
                prop_assert!(close(read.value, *mm));
            }
            prop_assert_eq!(read.lead.len(), line.points.len());
            for (read, [x, y, z]) in read.lead.iter().zip(&line.points) {
                let at = read.value.at.value;
                prop_assert!(close(at.x, x.0) && close(at.y, y.0) && close(at.z, z.0));
            }
        }
    }

    #[test]
    fn a_rack(
        reels in prop::collection::vec(("[a-z ,;\"äß=+@-]{0,12}[a-z]", length(10, 5_000_000), 1..=1000u32, any::<bool>()), 1..20),
        crlf in any::<bool>(),
        mark in any::<bool>(),
    ) {
        let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
        let end = if crlf { "\r\n" } else { "\n" };
        let mut text = format!("{}count,reel,length,rope,remnant{end}", if mark { "\u{feff}" } else { "" });
        for (number, (name, (_, length), count, remnant)) in reels.iter().enumerate() {
            text += &format!("{count},{},{length},{},{remnant}{end}", quoted(&format!("{number} {name}")), quoted(name));
        }
        let read = read_rack(text.as_bytes()).complete().expect("no problem");
        prop_assert_eq!(read.len(), reels.len());
        for (number, (read, (name, (mm, _), count, remnant))) in read.iter().zip(&reels).enumerate() {
            prop_assert_eq!(&read.value.reel.value, &format!("{number} {name}"));
            prop_assert_eq!(&read.value.rope.value, name.trim());
            prop_assert!(close(read.value.length.value, *mm));
            prop_assert_eq!((read.value.count.value, read.value.remnant.value), (*count, *remnant));
        }
    }
}
