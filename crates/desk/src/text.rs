//! What a task reads: a file on disk, or text held elsewhere under a name.
//!
//! The command line gives files; pages and the store give what they hold.
//! Both go through the same readers, so that a mistake is told in the same
//! words with the same line and column.

use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A file to be read, or its content with the name to speak of it by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// A file on disk.
    File(PathBuf),
    /// Content that is held already.
    Held {
        /// What it is called in messages.
        name: String,
        /// The content.
        bytes: Arc<[u8]>,
    },
}

impl Text {
    /// Content that is held already, under a name.
    ///
    /// ```
    /// let order = desk::Text::held("order 26-041", "becket = 1\n");
    /// assert_eq!(order.to_string(), "order 26-041");
    /// ```
    #[must_use]
    pub fn held(name: impl Into<String>, content: impl AsRef<[u8]>) -> Text {
        Text::Held { name: name.into(), bytes: content.as_ref().into() }
    }

    /// The file beside this one, if this is a file and that one is there.
    pub(crate) fn beside(&self, name: &str) -> Option<Text> {
        match self {
            Text::File(path) => Some(path.with_file_name(name)).filter(|beside| beside.is_file()).map(Text::File),
            Text::Held { .. } => None,
        }
    }

    /// Does its name end so, capitals or not?
    pub(crate) fn ends_with(&self, ending: &str) -> bool {
        let name = self.to_string();
        Path::new(&name).extension().is_some_and(|given| given.eq_ignore_ascii_case(ending))
    }
}

impl Default for Text {
    fn default() -> Self {
        Text::File(PathBuf::new())
    }
}

impl From<PathBuf> for Text {
    fn from(path: PathBuf) -> Text {
        Text::File(path)
    }
}

impl From<&Path> for Text {
    fn from(path: &Path) -> Text {
        Text::File(path.to_owned())
    }
}

impl std::fmt::Display for Text {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Text::File(path) => write!(f, "{}", path.display()),
            Text::Held { name, .. } => f.write_str(name),
        }
    }
}
