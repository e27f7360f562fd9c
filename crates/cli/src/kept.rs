//! `becket due` and `becket piece`: what must be looked at, and one piece.

use crate::paper::PaperAsk;
use crate::proof::cautions_text;
use crate::show::{finding_list, working_text};
use crate::tables::{fit, rows, wrapped};
use clap::Args;
use desk::records::{Records, stamp, wait};
use desk::{
    DueAnswer, DueRequest, EventRequest, InspectAnswer, InspectRequest, PieceAnswer, PieceRequest, Problem, System,
};
use std::fmt::Write;
use std::path::PathBuf;

/// The due list.
#[derive(Debug, Args)]
pub struct DueAsk {
    /// The store: a file, or a postgres:// address.
    #[arg(long)]
    store: String,
    /// The last day of the list: 2026-12-31; 30 days from today if left out.
    #[arg(long)]
    by: Option<String>,
    /// The day of today, if it is another.
    #[arg(long)]
    today: Option<String>,
    /// Rows at most.
    #[arg(long, default_value_t = 1000)]
    most: u32,
    /// Write the list as iCalendar to this file.
    #[arg(long)]
    ics: Option<PathBuf>,
    #[command(flatten)]
    paper: PaperAsk,
}

/// One piece.
#[derive(Debug, Args)]
pub struct PieceAsk {
    /// The code on its label.
    code: String,
    /// The store: a file, or a postgres:// address.
    #[arg(long)]
    store: String,
    /// The loft's rope list (CSV).
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// Enter an event first: inspected, in-service, used, turned, shortened,
    /// re-spliced, issued, replanned, retired, broken-for-test.
    #[arg(long, requires = "who")]
    enter: Option<String>,
    /// Who enters it.
    #[arg(long)]
    who: Option<String>,
    /// The day of it; today if left out.
    #[arg(long)]
    on: Option<String>,
    /// A reading of an inspection: wear=5%, heat=no, core-bare="not seen".
    #[arg(long = "reading", value_parser = pair)]
    readings: Vec<(String, String)>,
    /// Hours under load, for used.
    #[arg(long)]
    hours: Option<f64>,
    /// The next look; the usual interval if left out.
    #[arg(long)]
    next: Option<String>,
    /// Why the date may move later, or the piece is retired.
    #[arg(long)]
    reason: Option<String>,
    /// Show how every number came about.
    #[arg(long)]
    working: bool,
}

fn pair(text: &str) -> Result<(String, String), String> {
    let (code, value) = text.split_once('=').ok_or("write a criterion, = and what was seen: wear=5%")?;
    Ok((code.trim().to_owned(), value.trim().to_owned()))
}

/// The due list; gives whether something is overdue.
pub fn due(ask: &DueAsk, json: bool) -> Result<bool, Problem> {
    let now = stamp("becket")?;
    let request = DueRequest {
        today: ask.today.clone().unwrap_or_else(|| now.day().to_owned()),
        by: ask.by.clone(),
        most: ask.most,
    };
    let (answer, calendar) = wait(async {
        let records = Records::open_existing(&ask.store).await?;
        let answer = desk::due(&records, &request).await?;
        let calendar = match &ask.ics {
            Some(_) => Some(desk::due_calendar(&records, &request, now.at()).await?),
            None => None,
        };
        records.close().await;
        Ok::<_, Problem>((answer, calendar))
    })??;
    if let (Some(path), Some(calendar)) = (&ask.ics, calendar) {
        desk::save(path, calendar.as_bytes())?;
        crate::say(&format!("written: {}", path.display()));
    }
    ask.paper.write(&answer.today, |to| desk::due_paper(&answer, to))?;
    crate::write(json, &answer, || due_text(&answer))?;
    Ok(answer.pieces.iter().any(|piece| piece.days < 0))
}

fn due_text(answer: &DueAnswer) -> String {
    if answer.pieces.is_empty() {
        return format!("nothing must be looked at by {}\n", answer.by);
    }
    let table = answer
        .pieces
        .iter()
        .map(|piece| {
            vec![
                piece.due.clone(),
                piece.days.to_string(),
                piece.code.clone(),
                fit(&piece.boat, 14),
                fit(&piece.line, 20),
                fit(&piece.rope, 16),
            ]
        })
        .collect();
    let mut text = rows(&["due", ">days", "piece", "boat", "line", "rope"], table);
    let _ = writeln!(text, "\n{} pieces by {}", answer.pieces.len(), answer.by);
    if answer.more {
        text.push_str("there are more: --most\n");
    }
    text
}

/// One piece, after what is to be entered; gives whether it is out of use or
/// a limit is passed.
pub fn piece(ask: PieceAsk, json: bool, units: Option<System>) -> Result<bool, Problem> {
    let now = stamp(ask.who.as_deref().unwrap_or("becket"))?;
    let today = now.day().to_owned();
    let on = ask.on.clone().unwrap_or_else(|| today.clone());
    let units = units.unwrap_or_default();
    let ropes: Option<desk::Text> = ask.ropes.clone().map(Into::into);
    let (answer, inspected) = wait(async {
        let records = Records::open_existing(&ask.store).await?;
        let mut inspected = None;
        match ask.enter.as_deref() {
            Some("inspected") => {
                let request = InspectRequest {
                    code: ask.code.clone(),
                    on,
                    readings: ask.readings.clone(),
                    next: ask.next.clone(),
                    reason: ask.reason.clone(),
                    note: String::new(),
                    ropes: ropes.clone(),
                    units,
                };
                inspected = Some(desk::inspect(&records, &request, &now).await?);
            }
            Some(what) => {
                let request = EventRequest {
                    code: ask.code.clone(),
                    on,
                    what: what.to_owned(),
                    hours: ask.hours,
                    next: ask.next.clone(),
                    reason: ask.reason.clone(),
                };
                desk::enter_event(&records, &request, &now).await?;
            }
            None => {}
        }
        let request = PieceRequest { code: ask.code.clone(), today, ropes, units };
        let answer = desk::piece(&records, &request).await?;
        records.close().await;
        Ok::<_, Problem>((answer, inspected))
    })??;
    crate::write(json, &answer, || piece_text(&answer, inspected.as_ref(), ask.working))?;
    Ok(inspected.is_some_and(|found| found.condition == "withdraw"))
}

fn piece_text(answer: &PieceAnswer, inspected: Option<&InspectAnswer>, working: bool) -> String {
    let mut text = format!("{}: {}, {}\n\n", answer.code, answer.line, answer.boat);
    let fact = |name: &str, value: String| vec![name.to_owned(), value];
    let some = |value: &Option<String>| value.clone().unwrap_or_else(|| "not entered".to_owned());
    let days = answer.due_in_days.map_or_else(String::new, |days| format!(" ({days} days)"));
    let mut facts = vec![
        fact("state", answer.state.to_owned()),
        fact("rope", format!("{} {}", answer.rope, answer.colour).trim().to_owned()),
        fact("made", some(&answer.made_on)),
        fact(
            "in service since",
            format!("{}, {} months, {:.0} h", some(&answer.in_service_on), answer.months, answer.hours),
        ),
        fact("next look", format!("{}{days}", some(&answer.due))),
        fact("turned", answer.turned.to_string()),
        fact("shortened, re-spliced", answer.reworked.to_string()),
    ];
    if let Some(residual) = &answer.residual {
        let share = residual.share.as_ref().map_or_else(
            || "no figure".to_owned(),
            |share| format!("{:.0} % low, {:.0} % usual", share.low * 100.0, share.usual * 100.0),
        );
        facts.push(fact("strength left", format!("{share}: {}", residual.basis)));
    }
    text.push_str(&rows(&["", ""], facts));
    if let Some(found) = inspected {
        let _ = writeln!(text, "\ninspected: {}, next look {}", found.condition, some(&found.due));
        text.push_str(&finding_list(&found.findings));
    }
    if let Some(residual) = &answer.residual {
        text.push_str(&finding_list(&residual.findings));
        if working {
            text.push_str(&working_text(&residual.working));
        }
    }
    if !answer.history.is_empty() {
        let table = answer
            .history
            .iter()
            .map(|entry| vec![entry.day.clone(), entry.what.clone(), fit(&entry.note, 36), fit(&entry.by, 12)])
            .collect();
        let _ = write!(text, "\n{}", rows(&["day", "what", "note", "by"], table));
    }
    if !answer.tests.is_empty() {
        let table = answer
            .tests
            .iter()
            .map(|test| vec![test.number.clone(), test.load.text.clone(), test.ended.to_owned()])
            .collect();
        let _ = write!(text, "\n{}", rows(&["test", ">load", "ended"], table));
    }
    if !answer.form.is_empty() {
        text.push_str("\nto look at\n");
        for criterion in &answer.form {
            text.push_str(&wrapped(
                &format!("{}: {}; {} ({})", criterion.code, criterion.look, criterion.limit, criterion.source),
                "    ",
            ));
        }
    }
    if let Some(refused) = &answer.no_certificate {
        let _ = write!(text, "\n{}", wrapped(&crate::show::finding_text("", refused), "  "));
    }
    cautions_text(&answer.cautions, &mut text);
    text
}
