//! A photo as it may be kept: decoded within limits and written anew, so that
//! nothing but a picture is left of what was sent.

use crate::refusal::problem;
use desk::Problem;
use image::{ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// Longest side kept, in pixels.
const LONGEST: u32 = 1600;

/// A JPEG of the photo that was sent; where it was taken and with what is not kept.
///
/// # Errors
/// When it is no JPEG or PNG, or its sides or memory are over the limits.
pub(crate) fn rewritten(bytes: &[u8]) -> Result<Vec<u8>, Problem> {
    let refused =
        |why: String| problem("not-a-photo", format!("the photo cannot be read: {why}"), "send a JPEG or PNG");
    let mut reader =
        ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|why| refused(why.to_string()))?;
    if !matches!(reader.format(), Some(ImageFormat::Jpeg | ImageFormat::Png)) {
        return Err(refused("it is neither JPEG nor PNG".to_owned()));
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(12_000);
    limits.max_image_height = Some(12_000);
    limits.max_alloc = Some(256 * 1024 * 1024);
    reader.limits(limits);
    let photo = reader.decode().map_err(|why| refused(why.to_string()))?;
    let photo = if photo.width().max(photo.height()) > LONGEST { photo.thumbnail(LONGEST, LONGEST) } else { photo };
    let mut out = Cursor::new(Vec::new());
    photo.to_rgb8().write_to(&mut out, ImageFormat::Jpeg).map_err(|why| refused(why.to_string()))?;
    Ok(out.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_photo_is_written_anew_and_smaller() {
        let mut png = Cursor::new(Vec::new());
        image::RgbImage::from_pixel(2400, 1200, image::Rgb([120, 80, 40]))
            .write_to(&mut png, ImageFormat::Png)
            .expect("a picture");
        let kept = rewritten(png.get_ref()).expect("a photo");
        let back = image::load_from_memory_with_format(&kept, ImageFormat::Jpeg).expect("a JPEG");
        assert_eq!((back.width(), back.height()), (1600, 800));
    }

    #[test]
    fn what_is_no_photo_is_refused() {
        for bytes in [&b"<svg xmlns='http://www.w3.org/2000/svg'/>"[..], b"GIF89a", b"", b"\x89PNG\r\n\x1a\nrubbish"] {
            assert_eq!(rewritten(bytes).expect_err("refused").code, "not-a-photo");
        }
    }
}
