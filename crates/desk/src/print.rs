//! Bench cards and the other papers of an order as PDF in memory, for a front
//! end that has no folder to write to.

use crate::cards::{Paper, card, pieces};
use crate::lines::{LinesRequest, job};
use crate::papers::{PaperKind, PapersRequest, paper, papers_job};
use crate::problem::{Fault, Problem};

/// The cards of an order, or of one piece of it, as one PDF.
///
/// # Errors
/// When the order has mistakes, no piece has the code, or a card cannot be set.
pub fn cards_pdf(request: &LinesRequest, piece: Option<&str>, paper: Paper) -> Result<Vec<u8>, Problem> {
    let job = job(request)?;
    let all = pieces(&job);
    let wanted: Vec<_> = all.iter().filter(|one| piece.is_none_or(|code| one.code == code)).collect();
    if wanted.is_empty() {
        let codes = all.iter().map(|one| one.code.as_str()).collect::<Vec<_>>().join(", ");
        return Err(Problem::new(Fault::Request, "no-such-piece", "there is no such piece, so there is no card")
            .hint(format!("one of: {codes}")));
    }
    let facts: Vec<_> = wanted.into_iter().map(|piece| card(&job, piece)).collect();
    sheets::bench_cards(&facts, paper.sheet()).map_err(|why| Problem::refused("cannot-set", why.to_string()))
}

/// One paper of an order; the request's folder and kinds are not looked at.
///
/// # Errors
/// As [`papers`](crate::papers), without writing anything.
pub fn paper_pdf(request: &PapersRequest, kind: PaperKind) -> Result<Vec<u8>, Problem> {
    paper(&papers_job(request)?, request, kind)
}
