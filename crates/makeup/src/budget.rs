//! How far a line of a kind may stretch under its working load, and which
//! lines must give.
//!
//! No published budget was read: these are ours, each with its reason, and an
//! order's own wins. Stretch is that of bedded-in rope at the steady load.

use cordage::Use;
use rig::LineKind;

/// What a line's stretch at the steady load is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Budget {
    /// The most, share of the length; `None` where it does not matter.
    pub most: Option<f64>,
    /// The least, share of the length; `None` where stiffness does no harm.
    pub least: Option<f64>,
    /// Why.
    pub reason: &'static str,
}

/// The budget of a kind of line in a use.
///
/// # Example
/// ```
/// use cordage::Use;
/// use rig::LineKind;
/// let racing = makeup::stretch_budget(LineKind::MainHalyard, Use::ClubRacing);
/// assert_eq!(racing.most, Some(0.01));
/// let moored = makeup::stretch_budget(LineKind::DockLine, Use::ClubRacing);
/// assert!(moored.most.is_none() && moored.least.is_some());
/// ```
#[must_use]
pub fn stretch_budget(kind: LineKind, of: Use) -> Budget {
    let racing = matches!(of, Use::ClubRacing);
    let most = |racing_most: f64, other: f64, reason| Budget {
        most: Some(if racing { racing_most } else { other }),
        least: None,
        reason,
    };
    match kind {
        LineKind::MainHalyard | LineKind::JibHalyard | LineKind::StaysailHalyard => {
            most(0.01, 0.02, "the luff goes slack by as much in a gust")
        }
        LineKind::BackstayAdjuster | LineKind::Runner | LineKind::Checkstay => {
            most(0.01, 0.02, "the mast moves by as much")
        }
        LineKind::SpinnakerHalyard | LineKind::Guy | LineKind::TackLine => {
            most(0.02, 0.04, "the sail moves off the pole or sprit by as much")
        }
        LineKind::Foreguy | LineKind::PoleLift | LineKind::Vang | LineKind::Outhaul | LineKind::Cunningham => {
            most(0.02, 0.04, "the spar or the sail's edge moves by as much")
        }
        LineKind::ReefLineSlab | LineKind::ReefLineSingle => most(0.02, 0.04, "the reefed foot goes slack by as much"),
        LineKind::Mainsheet | LineKind::JibSheet | LineKind::StaysailSheet | LineKind::SpinnakerSheet => {
            most(0.03, 0.06, "the clew moves off its trim by as much")
        }
        LineKind::DockLine | LineKind::AnchorRode => {
            Budget { most: None, least: Some(0.01), reason: "a line that does not give snatches at cleat and bow" }
        }
        _ => Budget { most: None, least: None, reason: "its stretch does no harm" },
    }
}
