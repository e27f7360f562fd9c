//! The code on a card: a QR code as a drawing.

use drawing::{Drawing, Point, Shape, Tone};
use fast_qr::{ECL, QRBuilder};

use crate::SheetError;

/// Quiet zone round the code, in modules, as the symbology asks.
const QUIET: usize = 4;

/// Side of the code with its quiet zone, in mm.
const SIDE_MM: f64 = 18.0;

/// The code as a drawing, quiet zone included.
pub(crate) fn code(text: &str) -> Result<Drawing, SheetError> {
    let code = QRBuilder::new(text).ecl(ECL::M).build().map_err(|_| SheetError::CodeTooLong { bytes: text.len() })?;
    let module = SIDE_MM / (code.size + 2 * QUIET) as f64;
    let corner =
        |column: usize, row: usize| -> Point { ((column + QUIET) as f64 * module, (row + QUIET) as f64 * module) };
    let mut runs = Vec::new();
    for row in 0..code.size {
        let modules = &code[row];
        let mut column = 0;
        while column < code.size {
            let dark = modules[column..].iter().take_while(|module| module.value()).count();
            if dark > 0 {
                let end = column + dark;
                runs.push(vec![corner(column, row), corner(end, row), corner(end, row + 1), corner(column, row + 1)]);
            }
            column += dark.max(1);
        }
    }
    Ok(Drawing {
        shapes: vec![Shape::Lines { runs, fill: Some(Tone::Ink), stroke: None }],
        width_mm: SIDE_MM,
        height_mm: SIDE_MM,
        notes: Vec::new(),
        alt: "Code that leads back to the record".to_owned(),
    })
}
