//! Drawings set into the pages, shape by shape, at true size.
//!
//! The template leaves a labelled space as large as a drawing; after the
//! pages are laid out its shapes and words are put there. They become lines
//! and real text of the PDF, in the same fonts, without a detour over SVG,
//! which would cost more than all the rest of a card. One millimetre of a
//! drawing is one millimetre of the page: nothing here scales.

use std::collections::HashMap;
use std::sync::LazyLock;

use drawing::{Anchor, Drawing, Shape, Stroke, Tone, Type, Weight};
use typst::foundations::Label;
use typst::introspection::{Location, Tag};
use typst::layout::{Abs, Em, Frame, FrameItem, GroupItem, Point};
use typst::syntax::Span;
use typst::text::{FontInstance, FontVariant, FontVariations, FontWeight, Glyph, Lang, TextItem};
use typst::utils::PicoStr;
use typst::visualize::{
    Color, Curve, CurveItem, DashPattern, FillRule, FixedStroke, Geometry, LineCap, LineJoin, Paint,
};
use typst_layout::{Page, PagedDocument};

use crate::world::font;

/// The fonts of drawings, regular and bold.
static REGULAR: LazyLock<Option<FontInstance>> = LazyLock::new(|| instance(0, FontWeight::REGULAR));
static BOLD: LazyLock<Option<FontInstance>> = LazyLock::new(|| instance(1, FontWeight::BOLD));

fn instance(index: usize, weight: FontWeight) -> Option<FontInstance> {
    let variant = FontVariant { weight, ..FontVariant::default() };
    Some(font(index)?.instantiate(variant, Abs::pt(9.0), &FontVariations::default()))
}

/// How far a text runs at the small size without kerning, in mm.
pub(crate) fn advance(text: &str) -> f64 {
    let Some(font) = &*REGULAR else { return 0.0 };
    let glyphs = text.chars().filter_map(|character| font.ttf().glyph_index(character));
    let em: f64 = glyphs.filter_map(|glyph| font.x_advance(glyph.0)).map(Em::get).sum();
    em * drawing::SMALL_TYPE_MM
}

/// The drawings of a document, each with the label of the space left for it.
#[derive(Default)]
pub(crate) struct Pictures {
    drawings: Vec<(String, Drawing)>,
}

impl Pictures {
    /// Keeps a drawing and gives the label of its space.
    pub(crate) fn keep(&mut self, drawing: Drawing) -> String {
        let label = format!("drawing-{}", self.drawings.len());
        self.drawings.push((label.clone(), drawing));
        label
    }

    /// The document with every drawing in its space. `place` is that of the
    /// document among those that will be joined: two of them may hold equal
    /// parts, which the tags of the joined file must tell apart.
    pub(crate) fn set_into(&self, mut document: PagedDocument, place: usize) -> PagedDocument {
        let spaces = self
            .drawings
            .iter()
            .filter_map(|(label, drawing)| Some((Label::new(PicoStr::intern(label))?, drawing)))
            .collect();
        let filling = Filling { spaces, place };
        let pages =
            document.pages().iter().map(|page| Page { frame: filling.frame(&page.frame), ..page.clone() }).collect();
        let info = std::mem::take(document.info_mut());
        PagedDocument::new(pages, info)
    }
}

/// What goes into the frames of a document.
struct Filling<'a> {
    /// Drawings by the label of their space.
    spaces: HashMap<Label, &'a Drawing>,
    place: usize,
}

impl Filling<'_> {
    fn frame(&self, frame: &Frame) -> Frame {
        let mut out = Frame::new(frame.size(), frame.kind());
        if frame.has_baseline() {
            out.set_baseline(frame.baseline());
        }
        for (at, item) in frame.items() {
            let item = match item {
                FrameItem::Group(group) => FrameItem::Group(self.group(group)),
                FrameItem::Tag(tag) => FrameItem::Tag(self.tag(tag)),
                other => other.clone(),
            };
            out.push(*at, item);
        }
        out
    }

    fn group(&self, group: &GroupItem) -> GroupItem {
        let mut out = GroupItem { frame: self.frame(&group.frame), ..group.clone() };
        if let Some(parent) = &mut out.parent {
            parent.location = self.location(parent.location);
        }
        if let Some(drawing) = group.label.and_then(|label| self.spaces.get(&label)) {
            for shape in &drawing.shapes {
                push_shape(&mut out.frame, shape);
            }
        }
        out
    }

    fn tag(&self, tag: &Tag) -> Tag {
        match tag {
            Tag::Start(element, flags) => {
                let mut element = element.clone();
                if let Some(location) = element.location() {
                    element.set_location(self.location(location));
                }
                Tag::Start(element, *flags)
            }
            Tag::End(location, key, flags) => Tag::End(self.location(*location), *key, *flags),
        }
    }

    fn location(&self, location: Location) -> Location {
        if self.place == 0 { location } else { location.variant(self.place) }
    }
}

fn point((x, y): drawing::Point) -> Point {
    Point::new(Abs::mm(x), Abs::mm(y))
}

fn paint(tone: Tone) -> Paint {
    match tone {
        Tone::Ink => Paint::Solid(Color::from_u8(0x16, 0x24, 0x2c, 0xff)),
        Tone::Paper => Paint::Solid(Color::WHITE),
    }
}

fn line(stroke: &Stroke) -> FixedStroke {
    let dash = (!stroke.dashes_mm.is_empty()).then(|| DashPattern {
        array: stroke.dashes_mm.iter().map(|dash| Abs::mm(*dash)).collect(),
        phase: Abs::zero(),
    });
    FixedStroke { dash, ..FixedStroke::from_pair(paint(stroke.tone), Abs::mm(stroke.width_mm)) }
}

fn push(frame: &mut Frame, at: Point, curve: Curve, fill: Option<Paint>, stroke: Option<FixedStroke>) {
    let shape =
        typst::visualize::Shape { geometry: Geometry::Curve(curve), fill, fill_rule: FillRule::NonZero, stroke };
    frame.push(at, FrameItem::Shape(shape, Span::detached()));
}

fn push_shape(frame: &mut Frame, shape: &Shape) {
    match shape {
        Shape::Lines { runs, fill, stroke } => {
            let mut curve = Curve::new();
            for run in runs {
                for (index, place) in run.iter().enumerate() {
                    let place = point(*place);
                    curve.0.push(if index == 0 { CurveItem::Move(place) } else { CurveItem::Line(place) });
                }
                if fill.is_some() {
                    curve.close();
                }
            }
            push(frame, Point::zero(), curve, fill.map(paint), stroke.as_ref().map(line));
        }
        Shape::Round { centre, half, line_mm } => {
            let stroke = FixedStroke::from_pair(paint(Tone::Ink), Abs::mm(*line_mm));
            push(frame, point(*centre), round(*half), Some(paint(Tone::Paper)), Some(stroke));
        }
        Shape::Dots { centres, radius_mm } => {
            let mut curve = Curve::new();
            for centre in centres {
                let centre = point(*centre);
                curve.move_(centre);
                // A line of next to no length with round ends is a dot.
                curve.line(centre + Point::with_x(Abs::mm(0.01)));
            }
            let stroke = FixedStroke {
                cap: LineCap::Round,
                join: LineJoin::Round,
                ..FixedStroke::from_pair(paint(Tone::Ink), Abs::mm(2.0 * radius_mm))
            };
            push(frame, Point::zero(), curve, None, Some(stroke));
        }
        Shape::Text { at, text, set } => push_text(frame, point(*at), text, *set),
    }
}

/// A box with round ends round the origin; a circle if it is as high as wide.
fn round((half_width, half_height): drawing::Point) -> Curve {
    // Cubic that follows a quarter circle to 0.03 % of its radius.
    const QUARTER: f64 = 0.552_284_75;
    let (r, straight) = (half_height, half_width - half_height);
    let place = |x: f64, y: f64| point((x, y));
    let bend = QUARTER * r;
    let mut curve = Curve::new();
    curve.move_(place(-straight, -r));
    curve.line(place(straight, -r));
    curve.cubic(place(straight + bend, -r), place(straight + r, -bend), place(straight + r, 0.0));
    curve.cubic(place(straight + r, bend), place(straight + bend, r), place(straight, r));
    curve.line(place(-straight, r));
    curve.cubic(place(-straight - bend, r), place(-straight - r, bend), place(-straight - r, 0.0));
    curve.cubic(place(-straight - r, -bend), place(-straight - bend, -r), place(-straight, -r));
    curve.close();
    curve
}

fn push_text(frame: &mut Frame, at: Point, text: &str, set: Type) {
    let font = match set.weight {
        Weight::Regular => &*REGULAR,
        Weight::Bold => &*BOLD,
    };
    let Some(font) = font else { return };
    let mut glyphs = Vec::new();
    for (start, character) in text.char_indices() {
        // Text of drawings has passed [`crate::text`], so every glyph is there.
        let Some(glyph) = font.ttf().glyph_index(character) else { continue };
        let end = start + character.len_utf8();
        let (Ok(start), Ok(end)) = (u16::try_from(start), u16::try_from(end)) else { break };
        glyphs.push(Glyph {
            id: glyph.0,
            x_advance: font.x_advance(glyph.0).unwrap_or_default(),
            x_offset: Em::zero(),
            y_advance: Em::zero(),
            y_offset: Em::zero(),
            range: start..end,
            span: (Span::detached(), 0),
        });
    }
    let item = TextItem {
        font: font.clone(),
        size: Abs::mm(set.size_mm),
        fill: paint(Tone::Ink),
        stroke: None,
        lang: Lang::ENGLISH,
        region: None,
        text: text.into(),
        glyphs,
    };
    let back = match set.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    let at = at - Point::with_x(item.width() * back);
    frame.push(at, FrameItem::Text(item));
}
