//! How a rope is built, and which part of it carries the load.

/// Which part of a double braid carries the load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LoadOn {
    /// The core alone; the cover protects and is gripped.
    Core,
    /// Core and cover share it.
    Both,
}

/// How a rope is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Construction {
    /// Three strands laid right-handed.
    ThreeStrand,
    /// Eight strands plaited, four of each hand in pairs.
    EightPlait,
    /// A hollow braid of twelve strands, six of each hand.
    TwelveStrand,
    /// A braided cover over a braided core.
    DoubleBraid(LoadOn),
    /// A cover over parallel yarns.
    ParallelCore,
    /// A cover over twisted or laid cores.
    Kernmantle,
}

impl Construction {
    /// The name printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Construction::ThreeStrand => "3-strand",
            Construction::EightPlait => "8-plait",
            Construction::TwelveStrand => "12-strand",
            Construction::DoubleBraid(_) => "double braid",
            Construction::ParallelCore => "parallel core",
            Construction::Kernmantle => "kernmantle",
        }
    }

    /// Has it a cover that can be taken off the core?
    #[must_use]
    pub const fn has_cover(self) -> bool {
        matches!(self, Construction::DoubleBraid(_) | Construction::ParallelCore | Construction::Kernmantle)
    }

    /// Does its load run in a core under a cover that counts for nothing?
    #[must_use]
    pub const fn load_on_core(self) -> bool {
        matches!(self, Construction::DoubleBraid(LoadOn::Core) | Construction::ParallelCore | Construction::Kernmantle)
    }

    /// From a word as people write it; a double braid's load is settled by
    /// its fibre where the word does not say.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Construction> {
        Some(match word.to_ascii_lowercase().as_str() {
            "3-strand" | "three-strand" | "laid" => Construction::ThreeStrand,
            "8-plait" | "8-strand" | "eight-plait" | "octoplait" => Construction::EightPlait,
            "12-strand" | "twelve-strand" | "single-braid" => Construction::TwelveStrand,
            "double-braid" => Construction::DoubleBraid(LoadOn::Both),
            "double-braid-core" | "core-loaded-double-braid" => Construction::DoubleBraid(LoadOn::Core),
            "parallel-core" => Construction::ParallelCore,
            "kernmantle" => Construction::Kernmantle,
            _ => return None,
        })
    }
}
