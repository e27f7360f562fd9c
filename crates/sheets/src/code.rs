//! The code on a card: a QR code as a vector drawing.

use fast_qr::{ECL, QRBuilder};

use crate::SheetError;

/// Quiet zone round the code, in modules, as the symbology asks.
const QUIET: usize = 4;

/// The code as SVG, one unit a module, quiet zone included.
pub(crate) fn code_svg(text: &str) -> Result<String, SheetError> {
    let code = QRBuilder::new(text).ecl(ECL::M).build().map_err(|_| SheetError::CodeTooLong { bytes: text.len() })?;
    let mut path = String::new();
    for row in 0..code.size {
        let modules = &code[row];
        let mut column = 0;
        while column < code.size {
            let run = modules[column..].iter().take_while(|module| module.value()).count();
            if run > 0 {
                path.push_str(&format!("M{} {}h{run}v1h-{run}z", column + QUIET, row + QUIET));
            }
            column += run.max(1);
        }
    }
    let side = code.size + 2 * QUIET;
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{side}\" height=\"{side}\" viewBox=\"0 0 {side} {side}\">\
         <path d=\"{path}\" fill=\"#000\"/></svg>"
    ))
}
