//! The cut commands: plan, confirm, take back; progress and interrupt.
//!
//! While a search runs longer than a second, standard error says how far it
//! is. The first interrupt ends the search with the best plan so far; a second
//! one ends the program.

use crate::arguments::{ConfirmAsk, CutAsk};
use crate::{DONE, put, say, show_cut, verdict, write};
use desk::{CutAnswer, CutProgress, Problem, System, Watch};
use std::cell::Cell;
use std::io::{IsTerminal, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// How the program ends on a second interrupt.
const INTERRUPTED: i32 = 130;
/// Quiet for so long.
const QUIET: Duration = Duration::from_secs(1);
/// Between two words on progress, on a terminal and elsewhere.
const OFTEN: Duration = Duration::from_millis(250);
const SELDOM: Duration = Duration::from_secs(5);

/// Plans the cuts, and confirms the plan where that is asked.
pub fn cut(ask: &CutAsk, json: bool, units: Option<System>) -> Result<u8, Problem> {
    let request = ask.request(units)?;
    let stopped = interrupted()?;
    let line = Line::new();
    let watch = Watch { stop: &|| stopped.load(Ordering::Relaxed), told: &|step| line.tell(&step) };
    let found = match &ask.out {
        Some(out) => desk::cut_to(&request, (out, ask.paper.desk()), &watch),
        None => desk::cut_watched(&request, &watch).map(|answer| (answer, Vec::new())),
    };
    line.clear();
    let (answer, files): (CutAnswer, Vec<String>) = found?;
    if ask.csv {
        put(answer.csv().as_bytes())?;
    } else {
        write(json, &answer, || show_cut::cut(&answer))?;
    }
    files.iter().for_each(|file| say(&format!("written: {file}")));
    if ask.confirm {
        let done = desk::confirm_change(&ask.rack, &answer.rack)?;
        say(&show_cut::confirmed(&done, "confirmed").trim_end().replace('\n', "\n  "));
    }
    Ok(verdict(!answer.uncut.is_empty()))
}

/// Confirms a written plan, or takes the last one back.
pub fn confirm(ask: &ConfirmAsk, json: bool) -> Result<u8, Problem> {
    let (done, word) = match &ask.plan {
        Some(plan) => (desk::confirm(&ask.rack, plan)?, "confirmed"),
        None => (desk::take_back(&ask.rack)?, "taken back"),
    };
    write(json, &done, || show_cut::confirmed(&done, word))?;
    Ok(DONE)
}

/// A flag that the first interrupt sets; the second ends the program.
fn interrupted() -> Result<Arc<AtomicBool>, Problem> {
    use signal_hook::consts::SIGINT;
    use signal_hook::flag::{register, register_conditional_shutdown};
    let flag = Arc::new(AtomicBool::new(false));
    // In this order: the flag of the first interrupt is not yet set when it comes.
    register_conditional_shutdown(SIGINT, INTERRUPTED, Arc::clone(&flag))
        .and_then(|_| register(SIGINT, Arc::clone(&flag)))
        .map_err(|why| Problem::disk(&format!("interrupts cannot be caught: {why}")))?;
    Ok(flag)
}

/// The line on standard error.
struct Line {
    terminal: bool,
    last: Cell<Duration>,
}

impl Line {
    fn new() -> Line {
        Line { terminal: std::io::stderr().is_terminal(), last: Cell::new(Duration::ZERO) }
    }

    fn tell(&self, step: &CutProgress<'_>) {
        let between = if self.terminal { OFTEN } else { SELDOM };
        if step.time < QUIET || (self.last.get() > Duration::ZERO && step.time < self.last.get() + between) {
            return;
        }
        self.last.set(step.time);
        let gap = step
            .gap
            .map_or_else(|| "no bound yet".to_owned(), |gap| format!("within {:.0} mm of the best", gap.to_mm()));
        let rope: String = step.rope.chars().take(30).collect();
        let text = format!("{:.0} s: {rope}, {gap}; ctrl-c stops with the best so far", step.time.as_secs_f64());
        if self.terminal {
            // Nobody can be told that standard error is closed.
            let _ = write!(std::io::stderr(), "\r\u{1b}[K{text:.79}");
        } else {
            say(&text);
        }
    }

    fn clear(&self) {
        if self.terminal && self.last.get() > Duration::ZERO {
            let _ = write!(std::io::stderr(), "\r\u{1b}[K");
        }
    }
}
