//! The kinds of line that have statics of their own.

/// A kind of line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant is the trade's name of the line")]
pub enum LineKind {
    MainHalyard,
    JibHalyard,
    StaysailHalyard,
    SpinnakerHalyard,
    ToppingLift,
    PoleLift,
    Mainsheet,
    JibSheet,
    StaysailSheet,
    SpinnakerSheet,
    Guy,
    TackLine,
    Foreguy,
    Vang,
    Outhaul,
    Cunningham,
    BackstayAdjuster,
    Runner,
    Checkstay,
    ReefLineSlab,
    ReefLineSingle,
    FurlingLine,
    Traveller,
    LazyJack,
    LifelineLashing,
    Strop,
    Loop,
    SoftShackle,
    DockLine,
    AnchorRode,
    Messenger,
    PeakHalyard,
    ThroatHalyard,
    JibCar,
}

impl LineKind {
    /// Every kind, in the order printed.
    pub const ALL: [LineKind; 34] = [
        LineKind::MainHalyard,
        LineKind::JibHalyard,
        LineKind::StaysailHalyard,
        LineKind::SpinnakerHalyard,
        LineKind::ToppingLift,
        LineKind::PoleLift,
        LineKind::Mainsheet,
        LineKind::JibSheet,
        LineKind::StaysailSheet,
        LineKind::SpinnakerSheet,
        LineKind::Guy,
        LineKind::TackLine,
        LineKind::Foreguy,
        LineKind::Vang,
        LineKind::Outhaul,
        LineKind::Cunningham,
        LineKind::BackstayAdjuster,
        LineKind::Runner,
        LineKind::Checkstay,
        LineKind::ReefLineSlab,
        LineKind::ReefLineSingle,
        LineKind::FurlingLine,
        LineKind::Traveller,
        LineKind::LazyJack,
        LineKind::LifelineLashing,
        LineKind::Strop,
        LineKind::Loop,
        LineKind::SoftShackle,
        LineKind::DockLine,
        LineKind::AnchorRode,
        LineKind::Messenger,
        LineKind::PeakHalyard,
        LineKind::ThroatHalyard,
        LineKind::JibCar,
    ];

    /// The word in order files and answers.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            LineKind::MainHalyard => "main-halyard",
            LineKind::JibHalyard => "jib-halyard",
            LineKind::StaysailHalyard => "staysail-halyard",
            LineKind::SpinnakerHalyard => "spinnaker-halyard",
            LineKind::ToppingLift => "topping-lift",
            LineKind::PoleLift => "pole-lift",
            LineKind::Mainsheet => "mainsheet",
            LineKind::JibSheet => "jib-sheet",
            LineKind::StaysailSheet => "staysail-sheet",
            LineKind::SpinnakerSheet => "spinnaker-sheet",
            LineKind::Guy => "guy",
            LineKind::TackLine => "tack-line",
            LineKind::Foreguy => "foreguy",
            LineKind::Vang => "vang",
            LineKind::Outhaul => "outhaul",
            LineKind::Cunningham => "cunningham",
            LineKind::BackstayAdjuster => "backstay-adjuster",
            LineKind::Runner => "runner",
            LineKind::Checkstay => "checkstay",
            LineKind::ReefLineSlab => "reef-line-slab",
            LineKind::ReefLineSingle => "reef-line-single",
            LineKind::FurlingLine => "furling-line",
            LineKind::Traveller => "traveller",
            LineKind::LazyJack => "lazy-jack",
            LineKind::LifelineLashing => "lifeline-lashing",
            LineKind::Strop => "strop",
            LineKind::Loop => "loop",
            LineKind::SoftShackle => "soft-shackle",
            LineKind::DockLine => "dock-line",
            LineKind::AnchorRode => "anchor-rode",
            LineKind::Messenger => "messenger",
            LineKind::PeakHalyard => "peak-halyard",
            LineKind::ThroatHalyard => "throat-halyard",
            LineKind::JibCar => "jib-car",
        }
    }

    /// The kind of a word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<LineKind> {
        LineKind::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// Does the load stand on it for hours or days without being eased?
    #[must_use]
    pub const fn stands(self) -> bool {
        matches!(
            self,
            LineKind::MainHalyard
                | LineKind::JibHalyard
                | LineKind::StaysailHalyard
                | LineKind::PeakHalyard
                | LineKind::ThroatHalyard
                | LineKind::BackstayAdjuster
                | LineKind::LifelineLashing
                | LineKind::DockLine
                | LineKind::AnchorRode
        )
    }

    /// Is it held in the hand while it is loaded?
    #[must_use]
    pub const fn handled(self) -> bool {
        matches!(
            self,
            LineKind::Mainsheet
                | LineKind::JibSheet
                | LineKind::StaysailSheet
                | LineKind::SpinnakerSheet
                | LineKind::Guy
                | LineKind::Vang
                | LineKind::Cunningham
                | LineKind::Traveller
                | LineKind::FurlingLine
                | LineKind::DockLine
        )
    }

    /// Does it hold the boat or hang in the water, so that polyamide in it is wet?
    #[must_use]
    pub const fn works_wet(self) -> bool {
        matches!(self, LineKind::DockLine | LineKind::AnchorRode)
    }
}
