//! An inspection entered: the form judged, the date settled, the row written.

use super::life::kept;
use super::{day, refused, rope, ropes};
use crate::problem::{Fault, Problem};
use crate::records::rows::{NewInspection, Verdict};
use crate::records::{Records, Stamp};
use crate::text::Text;
use crate::wire::{FindingAnswer, findings};
use proving::{Condition, Event, Reading};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::json;
use units::System;

/// What was seen.
#[derive(Debug, Clone, Default)]
pub struct InspectRequest {
    /// The piece.
    pub code: String,
    /// The day.
    pub on: String,
    /// Criterion and reading: `("wear", "5 %")`, `("heat", "no")`,
    /// `("splice-loose", "not seen")`.
    pub readings: Vec<(String, String)>,
    /// The next look; the usual interval where not given.
    pub next: Option<String>,
    /// Why the date may move later.
    pub reason: Option<String>,
    /// Anything else.
    pub note: String,
    /// The rope list.
    pub ropes: Option<Text>,
    /// Units to print.
    pub units: System,
}

/// An inspection entered.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct InspectAnswer {
    /// The piece.
    pub code: String,
    /// `good`, `watch`, `incomplete` or `withdraw`.
    pub condition: &'static str,
    /// When it was due before.
    pub due_before: Option<String>,
    /// When it is due now.
    pub due: Option<String>,
    /// What is to be said, the worst first.
    pub findings: Vec<FindingAnswer>,
}

/// A reading from text.
fn reading(code: &str, text: &str) -> Result<Reading, Problem> {
    let fault = || {
        Problem::new(Fault::Request, "cannot-be-read", format!("{code}: {text:?} is no reading"))
            .hint("a share such as 5 %, or yes, no, not seen")
    };
    Ok(match text.trim().to_ascii_lowercase().as_str() {
        "yes" | "there" | "present" => Reading::Present,
        "no" | "none" | "absent" => Reading::Absent,
        "not seen" | "not-seen" | "" => Reading::NotSeen,
        other => {
            let percent =
                other.strip_suffix('%').and_then(|number| number.trim().parse::<f64>().ok()).ok_or_else(fault)?;
            Reading::Share(percent / 100.0)
        }
    })
}

/// Enters an inspection: judges the form, settles the date, writes the row.
///
/// # Errors
/// When a reading cannot be, the rope is not known, the date would move later
/// without a reason, or the piece is out of use.
pub async fn inspect(records: &Records, request: &InspectRequest, stamp: &Stamp) -> Result<InspectAnswer, Problem> {
    let known = kept(records, &request.code).await?;
    let rope = rope(&known.piece.rope, &ropes(request.ropes.as_ref())?).ok_or_else(|| {
        Problem::new(Fault::Request, "no-such-rope", format!("{:?} is not in the rope list", known.piece.rope))
            .hint("give the rope list that the piece was made from")
    })?;
    let form = proving::form(rope.construction, rope.fibre);
    let readings = request
        .readings
        .iter()
        .map(|(code, text)| Ok((code.clone(), reading(code, text)?)))
        .collect::<Result<Vec<_>, Problem>>()?;
    let judged = proving::judge(&form, &readings)
        .map_err(|why| Problem::new(Fault::Request, "no-such-reading", why.to_string()))?;
    let event = Event::Inspected {
        condition: judged.condition,
        next: request.next.as_deref().map(|next| day("next", next)).transpose()?,
        reason: request.reason.clone(),
    };
    let on = day("on", &request.on)?;
    let after = known.life.after(on, &event).map_err(|why| refused(&request.code, &why))?;
    // A withdrawn piece is due at once, until somebody decides; one that was
    // overdue stays so, for nothing moves its day later.
    let at_once = after.due.map_or(on, |due| due.min(on));
    let due = if judged.condition == Condition::Withdraw { Some(at_once) } else { after.due };
    let written = records
        .store()
        .inspect(
            &NewInspection {
                piece: request.code.clone(),
                day: request.on.clone(),
                form: format!("{}, {}", rope.construction.name(), rope.fibre.name()),
                findings: json!({ "condition": judged.condition.word(), "readings": request.readings }).to_string(),
                verdict: match judged.condition {
                    Condition::Good => Verdict::Keep,
                    Condition::Watch | Condition::Incomplete => Verdict::Watch,
                    Condition::Withdraw => Verdict::Withdraw,
                },
                used: format!("{:.0} h", after.hours),
                next_due: due.map(|due| due.to_string()),
                reason: request.reason.clone().unwrap_or_default(),
                note: request.note.clone(),
            },
            stamp,
        )
        .await?;
    Ok(InspectAnswer {
        code: request.code.clone(),
        condition: judged.condition.word(),
        due_before: written.due_before,
        due: written.due_after,
        findings: findings(&judged.findings, request.units),
    })
}
