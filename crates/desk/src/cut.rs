//! The cut plan: pieces of orders, or a bare list, from the rack.

pub use crate::cut_answer::{BuyAnswer, CutAnswer, LaterAnswer, ReelAnswer, UncutAnswer};
pub use crate::cut_ask::{CutProgress, CutRequest, PieceSource, Watch};

use crate::cards::Paper;
use crate::cut_answer::answer;
use crate::cut_pieces::Wanted;
use crate::cut_sheet::sheet;
use crate::cut_solve::solve;
use crate::cut_table::{table, wanted};
use crate::problem::Problem;
use crate::save::{ready, save};
use std::path::Path;

/// Plans the cuts.
///
/// # Errors
/// When a file has mistakes, a piece is longer than any reel, or no plan
/// passes the independent check.
pub fn cut(request: &CutRequest) -> Result<CutAnswer, Problem> {
    cut_watched(request, &Watch::NONE)
}

/// The same for a caller who watches the search and may end it.
///
/// # Errors
/// As [`cut`].
pub fn cut_watched(request: &CutRequest, watch: &Watch<'_>) -> Result<CutAnswer, Problem> {
    let table = table(request, wanted(request)?)?;
    Ok(answer(&table, &solve(&table, request, watch)?))
}

/// Plans the cuts, and writes `cut-plan.pdf`, `cut-plan.json` and
/// `cut-plan.csv` to a folder.
///
/// # Errors
/// As [`cut`], and when the folder cannot be written.
pub fn cut_to(
    request: &CutRequest,
    (out, paper): (&Path, Paper),
    watch: &Watch<'_>,
) -> Result<(CutAnswer, Vec<String>), Problem> {
    write_plan(request, wanted(request)?, (out, paper), watch)
}

/// The same for pieces that are known already.
pub(crate) fn write_plan(
    request: &CutRequest,
    wanted: Wanted,
    (out, paper): (&Path, Paper),
    watch: &Watch<'_>,
) -> Result<(CutAnswer, Vec<String>), Problem> {
    ready(out)?;
    let table = table(request, wanted)?;
    let solved = solve(&table, request, watch)?;
    let answer = answer(&table, &solved);
    let sheet = sheet(&table, &solved.plan, &answer);
    let pdf = sheets::cut_plan(&sheet, paper.sheet()).map_err(|why| Problem::refused("cannot-set", why.to_string()))?;
    let json = serde_json::to_vec_pretty(&answer).map_err(|why| Problem::refused("cannot-write", why.to_string()))?;
    let csv = answer.csv().into_bytes();
    let paths = [("cut-plan.pdf", pdf), ("cut-plan.json", json), ("cut-plan.csv", csv)];
    let written = paths.into_iter().map(|(name, bytes)| {
        let path = out.join(name);
        save(&path, &bytes).map(|()| path.display().to_string())
    });
    let written = written.collect::<Result<Vec<_>, _>>()?;
    Ok((answer, written))
}
