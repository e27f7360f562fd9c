//! The boat, her sails and how she is sailed, as the order has them: what a
//! sweep of winds and angles is asked about.

use crate::convert;
use crate::input::open;
use crate::problem::Problem;
use crate::text::Text;
use files::{OrderFile, Place, Placed};
use rig::{BoatError, CoefficientSet, GivenRow, Grid, Input, Inputs, Question, SailTable};
use units::Angle;

/// The question that an order asks.
///
/// Mistakes of the boat are told at her dimensions.
pub(crate) fn question(order: &OrderFile, text: &Text) -> Result<Question, QuestionError> {
    let record = &order.boat;
    let boat = convert::boat(&record.value).checked().map_err(|why| {
        let place = dimension_place(&record.value, &why).unwrap_or(record.place);
        QuestionError::Order(files::Problem::new("contradiction", why.to_string()).at(place))
    })?;
    let sails = order.sails.as_ref().map(|placed| &placed.value);
    Ok(Question {
        boat,
        sails: convert::sails(sails),
        conditions: convert::conditions(&order.usage.value),
        inputs: inputs(order).map_err(QuestionError::Order)?,
        coefficients: coefficients(sails.and_then(|sails| sails.coefficients.as_ref()), text)?,
        grid: Grid::default(),
    })
}

/// Where a question cannot be asked: in the order, or in a table beside it.
pub(crate) enum QuestionError {
    /// A mistake in the order file.
    Order(files::Problem),
    /// A table that is not there, or has mistakes of its own.
    Table(Problem),
}

/// The place of the dimension that is at fault.
fn dimension_place(record: &files::BoatRecord, why: &BoatError) -> Option<Place> {
    let length = |placed: &Option<Placed<units::Length>>| placed.as_ref().map(|placed| placed.place);
    match why {
        BoatError::BoomBelowDeck { .. } => length(&record.bas),
        BoatError::GaffAngle { .. } => record.gaff_angle.as_ref().map(|placed| placed.place),
        BoatError::Displacement { .. } => record.displacement.as_ref().map(|placed| placed.place),
        BoatError::Inclining { .. } => record.inclining.as_ref().map(|placed| placed.place),
        BoatError::NotHers { .. } => [&record.p_mizzen, &record.e_mizzen, &record.gaff]
            .into_iter()
            .find_map(length)
            .or_else(|| record.gaff_angle.as_ref().map(|placed| placed.place)),
        BoatError::NotAbove { what, .. } | BoatError::Above { what, .. } => match *what {
            "the waterline" => length(&record.lwl),
            "the beam" => length(&record.beam),
            "the draught" => length(&record.draught),
            "the freeboard" => length(&record.freeboard),
            "I" => length(&record.i),
            "J" => length(&record.j),
            "P" => length(&record.p),
            "E" => length(&record.e),
            "ISP" => length(&record.isp),
            "the mizzen's P" => length(&record.p_mizzen),
            "the mizzen's E" => length(&record.e_mizzen),
            "the inner I" => length(&record.i_staysail),
            "the inner J" => length(&record.j_staysail),
            "the gaff" => length(&record.gaff),
            _ => None,
        },
    }
}

/// The inputs that the order replaces.
fn inputs(order: &OrderFile) -> Result<Inputs, files::Problem> {
    let mut inputs = Inputs::default();
    let Some(assumed) = order.assumed.as_ref() else { return Ok(inputs) };
    for input in Input::ALL {
        if let Some((value, place)) = convert::assumed(&assumed.value, input) {
            inputs = inputs
                .with(input, value)
                .map_err(|why| files::Problem::new("out-of-range", why.to_string()).at(place))?;
        }
    }
    Ok(inputs)
}

/// The set of coefficients named, or read from a table beside the order.
fn coefficients(named: Option<&Placed<String>>, order: &Text) -> Result<CoefficientSet, QuestionError> {
    let Some(named) = named else { return Ok(CoefficientSet::orc_2023()) };
    match named.value.trim() {
        "orc-2023" => return Ok(CoefficientSet::orc_2023()),
        "hazen-1980" => return Ok(CoefficientSet::hazen_1980()),
        _ => {}
    }
    let table = order.beside(named.value.trim()).ok_or_else(|| {
        let message = format!("{:?} is no set of coefficients, and no table beside the order", named.value);
        QuestionError::Order(
            files::Problem::new("no-such-coefficients", message)
                .given(named.value.as_str())
                .allowed("orc-2023, hazen-1980, or the name of a CSV beside the order")
                .at(named.place),
        )
    })?;
    read_coefficients(&table).map_err(QuestionError::Table)
}

/// Reads a whole table of coefficients.
pub(crate) fn read_coefficients(table: &Text) -> Result<CoefficientSet, Problem> {
    let input = open(table, files::LARGEST_TABLE)?;
    let records = input.complete(files::read_coefficients(&input.bytes))?;
    let rows: Vec<GivenRow> = records.iter().map(|record| row(&record.value)).collect();
    CoefficientSet::of_rows(&input.name, &rows).map_err(|why| {
        let place = records.last().map_or(Place { start: 0, end: 0 }, |record| record.place);
        input.problem(&[files::Problem::new("no-coefficient-set", why.to_string()).at(place)])
    })
}

fn row(record: &files::CoefficientRecord) -> GivenRow {
    let sail = match record.sail.value {
        files::CoefficientSail::Main => SailTable::Main,
        files::CoefficientSail::Jib => SailTable::Jib,
        files::CoefficientSail::Symmetric => SailTable::Symmetric,
        files::CoefficientSail::Asymmetric => SailTable::Asymmetric,
    };
    let apparent: Angle = record.apparent.value;
    GivenRow { sail, apparent, lift: record.lift.value, drag: record.drag.value }
}
