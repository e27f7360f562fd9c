//! Reads folders of cutting-stock instances and reports what is proven and how fast.
//!
//! `cargo run --release -p cutting --example instances -- [--limit SECONDS] FOLDER…`
//! A file holds the number of kinds, the reel's length, then `length demand`
//! lines (fewest reels); files in folders named `…loft` hold reel kinds first
//! (`length supply price`), then `length demand` lines, and keep remnants from
//! 1,000 mm. Every plan is checked.
#![expect(clippy::print_stdout, reason = "a report program")]
#![allow(clippy::disallowed_methods, clippy::disallowed_macros, reason = "a report program reads files and prints")]

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use cutting::{Aim, Job, Origin, Piece, Reel, Rules, Settings, check, plan};
use units::Millimetres;

fn main() -> Result<(), Box<dyn Error>> {
    let mut limit = 10.0;
    let mut wordy = false;
    let mut folders = Vec::new();
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--limit" => limit = arguments.next().ok_or("--limit needs seconds")?.parse()?,
            "--each" => wordy = true,
            _ => folders.push(PathBuf::from(argument)),
        }
    }
    for folder in folders {
        report(&folder, Duration::from_secs_f64(limit), wordy)?;
    }
    Ok(())
}

fn report(folder: &Path, limit: Duration, wordy: bool) -> Result<(), Box<dyn Error>> {
    let mut files: Vec<PathBuf> = if folder.is_file() {
        vec![folder.to_owned()]
    } else {
        std::fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>()?
    };
    files.sort();
    let mut times = Vec::new();
    let mut proven = 0;
    for file in &files {
        let text = std::fs::read_to_string(file)?;
        let loft = file.parent().and_then(Path::file_name).is_some_and(|name| name.to_string_lossy().contains("loft"));
        let job = if loft { loft_job(&text) } else { plain_job(&text) }.ok_or("not an instance")?;
        let begin = Instant::now();
        let stop = || begin.elapsed() > limit;
        let told = |step: cutting::Progress<'_>| {
            if wordy {
                println!("    {:8.3} s {} gap {}", begin.elapsed().as_secs_f64(), step.doing, step.gap);
            }
        };
        let plan = plan(&job, &Settings { stop: &stop, progress: &told, ..Settings::default() })?;
        let took = begin.elapsed().as_secs_f64();
        check(&job, &plan).map_err(|faults| format!("{}: {faults:?}", file.display()))?;
        let loss = plan.goal(Aim::Loss).ok_or("no goal")?;
        let reels = plan.totals.reels;
        times.push(took);
        proven += usize::from(loss.proven);
        if wordy || !loss.proven || took > 5.0 {
            let name = file.file_stem().unwrap_or_default().to_string_lossy();
            println!(
                "  {name}: loss {} bound {} reels {reels} {took:.3} s, {}",
                loss.value, loss.bound, plan.ropes[0].certificate
            );
        }
    }
    times.sort_by(f64::total_cmp);
    if let (Some(most), Some(median)) = (times.last(), times.get(times.len() / 2)) {
        println!("{}: {proven} of {} proven, median {median:.4} s, most {most:.3} s", folder.display(), times.len());
    }
    Ok(())
}

fn plain_job(text: &str) -> Option<Job> {
    let mut numbers = text.split_whitespace().map(|word| word.parse::<i64>().ok());
    let kinds = numbers.next()??;
    let length = numbers.next()??;
    let pieces = pieces(&mut numbers, kinds)?;
    let reel = Reel { count: pieces.len() as u32, ..Reel::new("reel", "rope", Millimetres::new(length)) };
    Some(Job { pieces, reels: vec![reel], rules: Rules::keeping(Millimetres::new(length + 1)) })
}

fn loft_job(text: &str) -> Option<Job> {
    let mut numbers = text.split_whitespace().map(|word| word.parse::<i64>().ok());
    let kinds = numbers.next()??;
    let mut reels = Vec::new();
    for at in 0..kinds {
        let (length, supply, _price) = (numbers.next()??, numbers.next()??, numbers.next()??);
        let origin = if length == 200_000 || length == 100_000 { Origin::Rack } else { Origin::Remnant };
        let reel = Reel::new(format!("reel {at}"), "rope", Millimetres::new(length));
        reels.push(Reel { count: supply as u32, origin, ..reel });
    }
    let kinds = numbers.next()??;
    let pieces = pieces(&mut numbers, kinds)?;
    Some(Job { pieces, reels, rules: Rules::keeping(Millimetres::new(1_000)) })
}

fn pieces(numbers: &mut impl Iterator<Item = Option<i64>>, kinds: i64) -> Option<Vec<Piece>> {
    let mut pieces = Vec::new();
    for _ in 0..kinds {
        let (length, demand) = (numbers.next()??, numbers.next()??);
        for _ in 0..demand {
            pieces.push(Piece::new(format!("piece {}", pieces.len()), "rope", Millimetres::new(length)));
        }
    }
    Some(pieces)
}
