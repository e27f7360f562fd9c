//! Fixed words of the format: an enum, its words and what each means, written
//! once.

/// An enum whose variants are written as fixed words.
pub trait Word: Copy + 'static {
    /// Every variant with its word and its meaning.
    const ALL: &'static [(Self, &'static str, &'static str)];
    /// What the words are for, as a sentence names it.
    const WHAT: &'static str;

    /// The variant of a word.
    fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, known, _)| *known == word).map(|(variant, _, _)| *variant)
    }
}

/// Declares enums of fixed words.
macro_rules! words {
    ($(
        $(#[doc = $about:literal])+
        $name:ident, $what:literal {
            $( $word:literal => $variant:ident, $meaning:literal; )+
        }
    )+) => {$(
        $(#[doc = $about])+
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum $name {
            $( #[doc = concat!("`", $word, "`: ", $meaning, ".")] $variant, )+
        }

        impl $name {
            /// Every word, in the order of the reference.
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// The word that is written in a file.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $( $name::$variant => $word, )+
                }
            }

            /// The variant of a word; None for any other text.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                <Self as crate::word::Word>::from_word(word)
            }
        }

        impl crate::word::Word for $name {
            const ALL: &'static [(Self, &'static str, &'static str)] = &[$( ($name::$variant, $word, $meaning) ),+];
            const WHAT: &'static str = $what;
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }

        crate::value::read_word!($name);
    )+};
}

pub(crate) use words;
