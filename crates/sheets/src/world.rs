//! The typst library's view of the outside: template and fonts, nothing else.
//!
//! Both are part of the program. There is no file system, no network, no
//! package and no clock behind this world, so a template cannot read anything
//! but the facts it was given. They are its one file: the library stays the
//! same from sheet to sheet, so what one sheet has laid out the next can use.

use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Dict, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use crate::SheetError;

/// Noto Sans, Regular and Bold; the licence lies beside them.
static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
    let files: [&'static [u8]; 2] =
        [include_bytes!("../fonts/NotoSans-Regular.ttf"), include_bytes!("../fonts/NotoSans-Bold.ttf")];
    files.into_iter().flat_map(|file| Font::iter(Bytes::new(file))).collect()
});

static BOOK: LazyLock<LazyHash<FontBook>> = LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::builder().build()));

static TEMPLATES: LazyLock<Vec<Source>> = LazyLock::new(|| {
    let files = [
        ("look.typ", include_str!("../template/look.typ")),
        ("card.typ", include_str!("../template/card.typ")),
        ("cards.typ", include_str!("../template/cards.typ")),
        ("plan.typ", include_str!("../template/plan.typ")),
        ("document.typ", include_str!("../template/document.typ")),
        ("labels.typ", include_str!("../template/labels.typ")),
        ("lines.typ", include_str!("../template/lines.typ")),
    ];
    files.into_iter().filter_map(|(name, text)| Some(Source::new(file_id(name)?, text.to_owned()))).collect()
});

fn file_id(name: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(name).ok()?).intern())
}

/// The regular font (0) or the bold one (1).
pub(crate) fn font(index: usize) -> Option<Font> {
    FONTS.get(index).cloned()
}

/// Whether the fonts can print a character.
pub(crate) fn printable(character: char) -> bool {
    FONTS.iter().all(|font| font.info().coverage.contains(character as u32))
}

/// A template with its facts.
pub(crate) struct SheetWorld {
    main: FileId,
    facts_file: FileId,
    facts: Bytes,
}

impl SheetWorld {
    /// The template `main`, which reads `facts` as `facts.json`.
    pub(crate) fn new(main: &str, facts: &Dict) -> Result<SheetWorld, SheetError> {
        let named = |name: &str| file_id(name).ok_or_else(|| SheetError::Template(format!("no file called {name}")));
        let facts = serde_json::to_vec(facts).map_err(|why| SheetError::Template(why.to_string()))?;
        Ok(SheetWorld { main: named(main)?, facts_file: named("facts.json")?, facts: Bytes::new(facts) })
    }
}

impl World for SheetWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &BOOK
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        TEMPLATES.iter().find(|source| source.id() == id).cloned().ok_or(FileError::AccessDenied)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == self.facts_file { Ok(self.facts.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn font(&self, index: usize) -> Option<Font> {
        font(index)
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
