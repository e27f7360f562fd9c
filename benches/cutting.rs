//! How fast cut plans are proven: published instances, our own, shop-sized jobs.
//!
//! `cargo bench -p benches --bench cutting -- [--published FOLDER]
//! [--limit SECONDS] [--class NAME] [--export FOLDER]`. Published instances
//! are read in place from the folder given, a folder for each class, and passed
//! over with a message where they are absent. Every plan passes the independent check. The limit, and the time
//! reported first, is the time that the machine gave to this thread, which
//! other work on the machine does not lengthen; the wall's time is beside it. `--export` writes the few instances of `cutting/peers.py`, each
//! with our answer and the quick plan to start from.
#![expect(clippy::print_stdout, reason = "a report program")]
#![allow(clippy::disallowed_methods, clippy::disallowed_macros, reason = "a report program reads files and prints")]

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use cutting::{Aim, Job, Origin, Piece, Plan, Reel, Rules, Settings, check, plan};
use units::Millimetres;

#[path = "cutting/made.rs"]
mod made;

/// One job of a class.
pub struct Case {
    /// Its name.
    pub name: String,
    /// The job.
    pub job: Job,
}

/// A class by its name.
pub type Class = (String, Vec<Case>);

const PUBLISHED: [&str; 7] = ["falkenauer_u", "falkenauer_t", "scholl_1", "scholl_2", "schwerin", "waescher", "hard28"];

fn main() -> Result<(), Box<dyn Error>> {
    let mut limit = 10.0;
    let mut only = None;
    let mut export = None;
    let mut published_in = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--limit" => limit = arguments.next().ok_or("--limit needs seconds")?.parse()?,
            "--published" => published_in = Some(PathBuf::from(arguments.next().ok_or("--published needs a folder")?)),
            "--class" => only = Some(arguments.next().ok_or("--class needs a name")?),
            "--export" => export = Some(PathBuf::from(arguments.next().ok_or("--export needs a folder")?)),
            _ => {}
        }
    }
    let limit = Duration::from_secs_f64(limit);
    println!("class | jobs | proven | within one remnant | median s | most s | median wall s | most wall s");
    for (class, cases) in classes(published_in.as_deref())? {
        if only.as_ref().is_some_and(|only| *only != class) {
            continue;
        }
        match &export {
            // The first by name and the one in the middle stand for a class.
            Some(folder) if !class.starts_with("shop") => {
                for at in [0, cases.len() / 2] {
                    write_for_peers(folder, &class, &cases[at], limit)?;
                }
            }
            Some(_) => {}
            None => report(&class, &cases, limit)?,
        }
    }
    Ok(())
}

/// Every class that is there, published ones first.
fn classes(published_in: Option<&Path>) -> Result<Vec<Class>, Box<dyn Error>> {
    let mut classes = Vec::new();
    for class in PUBLISHED {
        let Some(folder) = published_in.map(|folder| folder.join(class)).filter(|folder| folder.is_dir()) else {
            println!("{class}: passed over, no folder of its instances is given");
            continue;
        };
        let mut files: Vec<PathBuf> =
            std::fs::read_dir(&folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>()?;
        files.sort();
        let mut cases = Vec::new();
        for file in files {
            let name = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            let job = published(&std::fs::read_to_string(&file)?).ok_or("not an instance")?;
            cases.push(Case { name, job });
        }
        classes.push((class.to_owned(), cases));
    }
    classes.extend(made::classes());
    Ok(classes)
}

/// Number of kinds, the reel's length, then `length demand` lines.
fn published(text: &str) -> Option<Job> {
    let mut numbers = text.split_whitespace().map(|word| word.parse::<i64>().ok());
    let (kinds, length) = (numbers.next()??, numbers.next()??);
    let mut pieces = Vec::new();
    for _ in 0..kinds {
        let (length, demand) = (numbers.next()??, numbers.next()??);
        pieces.extend((0..demand).map(|_| Millimetres::new(length)));
    }
    let count = pieces.len() as u32;
    Some(made::job(
        pieces,
        &[(Millimetres::new(length), count, Origin::Rack)],
        Rules::keeping(Millimetres::new(length + 1)),
    ))
}

/// One plan, checked, with the time it took: of this thread, and on the wall.
fn timed(job: &Job, limit: Duration) -> Result<(Plan, f64, f64), Box<dyn Error>> {
    let (begin, before) = (Instant::now(), thread_seconds());
    // The limit is time that this thread was given: on a machine that others
    // use too, time on the wall says little. Asked only once it can have come.
    let given = || if before > 0.0 { thread_seconds() - before } else { begin.elapsed().as_secs_f64() };
    let stop = || begin.elapsed() > limit && given() > limit.as_secs_f64();
    let found = plan(job, &Settings { stop: &stop, ..Settings::default() })?;
    let (wall, own) = (begin.elapsed().as_secs_f64(), thread_seconds() - before);
    check(job, &found).map_err(|faults| format!("{faults:?}"))?;
    Ok((found, if own > 0.0 { own } else { wall }, wall))
}

/// Time that the machine has given to this thread, 0 where it does not tell.
fn thread_seconds() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split_whitespace().next().and_then(|word| word.parse::<f64>().ok()).unwrap_or(0.0) / 1e9
}

fn report(class: &str, cases: &[Case], limit: Duration) -> Result<(), Box<dyn Error>> {
    let (mut own, mut wall) = (Vec::new(), Vec::new());
    let (mut proven, mut near) = (0, 0);
    let mut missed = String::new();
    for case in cases {
        let (found, seconds, on_the_wall) = timed(&case.job, limit).map_err(|why| format!("{}: {why}", case.name))?;
        let loss = found.goal(Aim::Loss).ok_or("no goal")?;
        own.push(seconds);
        wall.push(on_the_wall);
        proven += usize::from(loss.proven);
        near += usize::from(loss.value - loss.bound <= case.job.rules.value_of_a_remnant().count());
        if !loss.proven {
            let _ = writeln!(missed, "  {}: {} lost, bound {}, {seconds:.2} s", case.name, loss.value, loss.bound);
        }
    }
    for times in [&mut own, &mut wall] {
        times.sort_by(f64::total_cmp);
    }
    let (middle, last) = (own.len() / 2, own.len() - 1);
    println!(
        "{class} | {} | {proven} | {near} | {:.4} | {:.3} | {:.4} | {:.3}",
        cases.len(),
        own[middle],
        own[last],
        wall[middle],
        wall[last]
    );
    print!("{missed}");
    Ok(())
}

/// An instance for the peers: reels, pieces, our answer, the quick plan.
fn write_for_peers(folder: &Path, class: &str, case: &Case, limit: Duration) -> Result<(), Box<dyn Error>> {
    std::fs::create_dir_all(folder)?;
    let (found, own, wall) = timed(&case.job, limit)?;
    let (quick, ..) = timed(&case.job, Duration::from_millis(20))?;
    let job = &case.job;
    let mut kinds: BTreeMap<i64, usize> = BTreeMap::new();
    job.pieces.iter().for_each(|piece| *kinds.entry(piece.cut_length().count()).or_default() += 1);
    let reel_of = |name: &str| job.reels.iter().position(|reel| reel.id == name).unwrap_or(0);
    let opened = |plan: &Plan| plan.reels.iter().map(|cut| job.reels[reel_of(&cut.reel)].length.count()).sum::<i64>();
    let loads: Vec<String> = quick
        .reels
        .iter()
        .map(|cut| {
            let lengths: Vec<String> = cut.cuts.iter().map(|cut| (cut.to - cut.from).count().to_string()).collect();
            format!("[{},[{}]]", reel_of(&cut.reel), lengths.join(","))
        })
        .collect();
    let reels: Vec<String> = job.reels.iter().map(|reel| format!("[{},{}]", reel.length.count(), reel.count)).collect();
    let pieces: Vec<String> = kinds.iter().rev().map(|(length, count)| format!("[{length},{count}]")).collect();
    let loss = found.goal(Aim::Loss).ok_or("no goal")?;
    let text = format!(
        "{{\"class\":\"{class}\",\"name\":\"{}\",\"reels\":[{}],\"pieces\":[{}],\"quick\":[{}],\
         \"opened\":{},\"proven\":{},\"seconds\":{own},\"wall\":{wall}}}\n",
        case.name,
        reels.join(","),
        pieces.join(","),
        loads.join(","),
        opened(&found),
        loss.proven
    );
    std::fs::write(folder.join(format!("{class}-{}.json", case.name)), text)?;
    println!("{class} {}: {:.4} s, proven {}", case.name, own, loss.proven);
    Ok(())
}

/// Names in the order given.
pub fn named(pieces: Vec<Millimetres>, reels: &[(Millimetres, u32, Origin)], rules: Rules) -> Job {
    let pieces =
        pieces.into_iter().enumerate().map(|(at, length)| Piece::new(format!("piece {at}"), "rope", length)).collect();
    let reel = |(at, &(length, count, origin)): (usize, &(Millimetres, u32, Origin))| Reel {
        count,
        origin,
        ..Reel::new(format!("reel {at}"), "rope", length)
    };
    Job { pieces, reels: reels.iter().enumerate().map(reel).collect(), rules }
}
