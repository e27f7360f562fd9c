//! scratch
#[path="/work/main/crates/sheets/tests/sample/mod.rs"] mod demo;
use std::time::Instant;
fn main() {
    let n: usize = std::env::args().nth(1).map_or(30, |a| a.parse().unwrap());
    for (paper, name) in [(sheets::Paper::A4, "a4"), (sheets::Paper::Letter, "letter")] {
        let t = Instant::now();
        let one = sheets::bench_card(&demo::long_bury(), paper).unwrap();
        println!("one {name}: {:?} {} bytes", t.elapsed(), one.len());
        std::fs::write(format!("/tmp/paper/out/one-{name}.pdf"), &one).unwrap();
        std::fs::write(format!("/tmp/paper/out/nasty-{name}.pdf"), sheets::bench_card(&demo::nasty(), paper).unwrap()).unwrap();
        std::fs::write(format!("/tmp/paper/out/two-{name}.pdf"), sheets::bench_card(&demo::two_ends(), paper).unwrap()).unwrap();
        std::fs::write(format!("/tmp/paper/out/stop-{name}.pdf"), sheets::bench_card(&demo::stopped(), paper).unwrap()).unwrap();
        std::fs::write(format!("/tmp/paper/out/plan-{name}.pdf"), sheets::cut_plan(&demo::plan(), paper).unwrap()).unwrap();
        std::fs::write(format!("/tmp/paper/out/lines-{name}.pdf"), sheets::line_table(&demo::lines(), paper).unwrap()).unwrap();
    }
    let cards: Vec<_> = (0..n).map(|i| { let mut c = if i % 2 == 0 { demo::long_bury() } else { demo::two_ends() }; c.piece = format!("B-{i:03}"); c.cut_length = format!("{} mm", 12000 + i); c.code = format!("becket:piece/B-{i:03}"); c }).collect();
    let t = Instant::now();
    let all = sheets::bench_cards(&cards, sheets::Paper::A4).unwrap();
    println!("{n} cards: {:?} {} bytes", t.elapsed(), all.len());
    std::fs::write("/tmp/paper/out/all.pdf", &all).unwrap();
}
