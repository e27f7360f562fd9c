//! The strop: a short piece with a long-bury eye at each end.
//!
//! Both buries lie between the throats, so the piece cannot be shorter than
//! two eyes, two buries and room between: tails that overlap hold far less,
//! and are refused. Its cut length is the finished length, bearing point to
//! bearing point, and what each eye adds.

use super::{buried::bury, long_bury};
use crate::layout::Layout;
use crate::{EndKind, EndRequest, SpliceError};
use sources::{EXACT, Finding, GIVEN, Grade, OURS, PS_SPLICE, Step};
use units::Sentence;

/// Room between the two tails' ends, in diameters.
const ROOM: f64 = 10.0;

/// The layout of a strop: one end's marks, to be set out from both.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let missing =
        SpliceError::Missing { kind: request.kind, what: "the finished length, bearing point to bearing point" };
    let finished = request.finished.ok_or(missing)?;
    let one = EndRequest { kind: EndKind::LongBuryEye, ..request.clone() };
    let mut end = long_bury::lay_out(&one)?;
    let bury = bury(&one)?;
    let bearing_to_throat = end.eye.map_or(request.rope.diameter, |eye| eye.bearing_to_throat);
    let least = (bearing_to_throat + bury.length) * 2.0 + bury.diameter * ROOM;
    if finished < least {
        return Err(SpliceError::TooShort { kind: request.kind, given: finished, least: least.up_to_mm().to_length() });
    }
    let each = end.rope_used;
    let cut = finished + each * 2.0;
    end.working.push(
        Step::new("cut length", "finished + 2 x rope used at an end", cut, EXACT.at("sum"))
            .input("finished", finished)
            .input("rope used at an end", each),
    );
    end.working.push(
        Step::new(
            "least finished length",
            "2 (bearing point to throat + bury) + 10 d",
            least,
            OURS.at("tails may not overlap"),
        )
        .input("bury", bury.length),
    );
    end.working.push(Step::new("finished length", "", finished, GIVEN.at("bearing point to bearing point")));
    end.findings.push(Finding::new(
        Grade::Note,
        "tails-apart",
        Sentence::new("{} are left between the two tails' ends: overlapping tails were found several times weaker")
            .with(finished - (bearing_to_throat + bury.length) * 2.0),
        PS_SPLICE.at("overlapping tails"),
    ));
    end.steps.insert(
        0,
        Sentence::new("cut {} of rope; the marks are the same from both bitter ends, and both ends are made alike")
            .with(cut.up_to_mm()),
    );
    Ok(Layout { kind: request.kind, rope_used: cut, finished: Some(finished), shrinkage: end.shrinkage * 2.0, ..end })
}
