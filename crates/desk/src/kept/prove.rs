//! The proof plan of one piece, from its order as it is kept and with the
//! loft's own figures.

use super::life::kept;
use super::tests::KeptFigures;
use crate::own::OwnSource;
use crate::problem::{Fault, Problem};
use crate::proof::{PlanAnswer, PlanRequest, proof_plans};
use crate::records::Records;
use crate::text::Text;
use units::System;

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct ProveRequest {
    /// The piece.
    pub code: String,
    /// `40 %` of the estimated strength, `1.5 x` the working load, `12 kN`.
    pub load: String,
    /// How long it is held.
    pub hold: Option<String>,
    /// How often it is pulled.
    pub cycles: u32,
    /// The rope list.
    pub ropes: Option<Text>,
    /// Units to print; the order's own where not given.
    pub units: Option<System>,
}

/// The proof plan of a piece.
///
/// # Errors
/// When the piece or its order is not there, the piece is out of use, or the
/// load cannot be.
pub async fn plan_piece(records: &Records, request: &ProveRequest) -> Result<PlanAnswer, Problem> {
    let known = kept(records, &request.code).await?;
    known.life.after(known.life.latest, &proving::Event::Proved).map_err(|why| super::refused(&request.code, &why))?;
    let order = known.piece.order_id.clone().ok_or_else(|| {
        Problem::refused("no-order", format!("{} was made for no order of this loft", request.code))
            .hint("its strength is worked out from its order; prove it by the load that its maker states")
    })?;
    let text = records.store().order(&order).await?.text;
    let plans = proof_plans(&PlanRequest {
        order: Text::held(format!("order {order}"), &text),
        ropes: request.ropes.clone(),
        line: Some(known.piece.line.clone()),
        own: OwnSource { kept: Some(KeptFigures::of(records).await?), ..OwnSource::default() },
        load: request.load.clone(),
        hold: request.hold.clone(),
        cycles: request.cycles,
        units: request.units,
    })?;
    plans.into_iter().next().ok_or_else(|| {
        Problem::new(Fault::Request, "no-such-line", format!("the order has no line {:?} any more", known.piece.line))
    })
}
