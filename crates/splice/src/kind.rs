//! Every kind of end a loft makes, by its trade name.
//!
//! The word of a kind is what an order file, a command and JSON carry. Which
//! constructions a kind can be made in is answered here; how it is laid out
//! is answered by the module of the kind.

use cordage::{Construction, LoadOn};

macro_rules! kinds {
    ($( $(#[$doc:meta])* $kind:ident = $word:literal, $name:literal; )+) => {
        /// What is made at the end of a rope, or of a whole short piece.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum EndKind {
            $( $(#[$doc])* $kind, )+
        }

        impl EndKind {
            /// Every kind, in the order printed.
            pub const ALL: &'static [EndKind] = &[$(EndKind::$kind),+];

            /// The word of order files and commands: `long-bury-eye`.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(EndKind::$kind => $word),+ }
            }

            /// The name printed: `long-bury eye`.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(EndKind::$kind => $name),+ }
            }

            /// From its word, in any case.
            ///
            /// ```
            /// use splice::EndKind;
            /// assert_eq!(EndKind::from_word("long-bury-eye"), Some(EndKind::LongBuryEye));
            /// assert_eq!(EndKind::from_word("granny"), None);
            /// ```
            #[must_use]
            pub fn from_word(word: &str) -> Option<EndKind> {
                match word.trim().to_ascii_lowercase().as_str() {
                    $($word => Some(EndKind::$kind),)+
                    _ => None,
                }
            }
        }
    };
}

kinds! {
    /// An eye whose tail is buried far down its own standing part.
    LongBuryEye = "long-bury-eye", "long-bury eye";
    /// A long-bury eye whose legs pass through each other at the throat.
    LockedEye = "locked-eye", "locked eye";
    /// Two ropes joined by burying each one's tail in the other.
    EndToEnd = "end-to-end", "end-to-end join";
    /// A ring of rope, its two ends buried in each other.
    EndlessLoop = "endless-loop", "endless loop";
    /// An eye whose size is set by sliding its unstitched tail.
    AdjustableLoop = "adjustable-loop", "adjustable loop";
    /// A loop that closes over a stopper knot of its own rope.
    SoftShackle = "soft-shackle", "soft shackle";
    /// A short piece with a long-bury eye at each end.
    Strop = "strop", "strop";
    /// An eye long enough to pass the whole line or fitting through itself.
    LuggageTagLoop = "luggage-tag-loop", "luggage-tag loop";
    /// Core eye of a covered rope, the cover carried round the eye.
    CoveredEye = "covered-eye", "covered eye";
    /// Core eye with the cover off for a run, the cover's end buried in the core.
    BareCoreEye = "bare-core-eye", "bare-core eye";
    /// A bare core made on to a covered tail, the cover's end buried in it.
    CoreToCoverJoin = "core-to-cover-join", "core-to-cover join";
    /// Eye of a double braid that carries on core and cover, by fid lengths.
    CoreAndCoverEye = "core-and-cover-eye", "core-and-cover eye";
    /// Two double braids joined, core in cover and cover in core.
    CoreAndCoverEndToEnd = "core-and-cover-end-to-end", "core-and-cover end-to-end join";
    /// A ring of double braid, joined core in cover and cover in core.
    CoreAndCoverLoop = "core-and-cover-loop", "core-and-cover endless loop";
    /// Strands of a laid rope tucked back into the standing part.
    TuckedEye = "tucked-eye", "tucked eye";
    /// Two laid ropes married and tucked into each other.
    ShortSplice = "short-splice", "short splice";
    /// Strands of a laid rope crowned and tucked back down.
    BackSplice = "back-splice", "back splice";
    /// Strands of an 8-plait tucked back in pairs.
    EightPlaitTuckedEye = "eight-plait-tucked-eye", "8-plait tucked eye";
    /// Strands of a rope taken through a chain's end link and tucked back.
    ToChain = "to-chain", "rope-to-chain splice";
    /// A slippery core made on to a tail of another fibre.
    UnlikeRopes = "unlike-ropes", "join of unlike ropes";
    /// A small loop at the bitter end for a messenger.
    ReevingLoop = "reeving-loop", "reeving loop";
    /// Turns of twine, their ends buried under them.
    CommonWhipping = "common-whipping", "common whipping";
    /// Turns of twine locked by frapping along the lay.
    SailmakersWhipping = "sailmakers-whipping", "sailmaker's whipping";
    /// Turns of twine sewn through the rope at both ends.
    StitchedWhipping = "stitched-whipping", "stitched whipping";
    /// The end whipped the way that suits its construction.
    WhippedEnd = "whipped-end", "whipped end";
    /// The end melted and pressed.
    SealedEnd = "sealed-end", "heat-sealed end";
}

impl EndKind {
    /// Has it an eye that goes over something?
    #[must_use]
    pub const fn has_eye(self) -> bool {
        matches!(
            self,
            EndKind::LongBuryEye
                | EndKind::LockedEye
                | EndKind::AdjustableLoop
                | EndKind::Strop
                | EndKind::LuggageTagLoop
                | EndKind::CoveredEye
                | EndKind::BareCoreEye
                | EndKind::CoreAndCoverEye
                | EndKind::TuckedEye
                | EndKind::EightPlaitTuckedEye
                | EndKind::ReevingLoop
        )
    }

    /// Is it a whole piece by itself, not one end of a longer one?
    #[must_use]
    pub const fn is_whole_piece(self) -> bool {
        matches!(self, EndKind::EndlessLoop | EndKind::SoftShackle | EndKind::Strop | EndKind::CoreAndCoverLoop)
    }

    /// Does a buried tail held by a braid carry the load?
    #[must_use]
    pub const fn is_buried(self) -> bool {
        matches!(
            self,
            EndKind::LongBuryEye
                | EndKind::LockedEye
                | EndKind::EndToEnd
                | EndKind::EndlessLoop
                | EndKind::AdjustableLoop
                | EndKind::SoftShackle
                | EndKind::Strop
                | EndKind::LuggageTagLoop
                | EndKind::CoveredEye
                | EndKind::BareCoreEye
                | EndKind::CoreToCoverJoin
                | EndKind::UnlikeRopes
        )
    }

    /// Can it be made in a rope built so?
    #[must_use]
    pub fn suits(self, construction: Construction) -> bool {
        use Construction::{DoubleBraid, EightPlait, ThreeStrand, TwelveStrand};
        match self {
            EndKind::LongBuryEye
            | EndKind::LockedEye
            | EndKind::EndToEnd
            | EndKind::EndlessLoop
            | EndKind::AdjustableLoop
            | EndKind::SoftShackle
            | EndKind::Strop
            | EndKind::LuggageTagLoop => construction == TwelveStrand,
            EndKind::CoveredEye | EndKind::BareCoreEye | EndKind::CoreToCoverJoin => {
                construction == DoubleBraid(LoadOn::Core)
            }
            EndKind::CoreAndCoverEye | EndKind::CoreAndCoverEndToEnd | EndKind::CoreAndCoverLoop => {
                construction == DoubleBraid(LoadOn::Both)
            }
            EndKind::TuckedEye | EndKind::ShortSplice | EndKind::BackSplice => construction == ThreeStrand,
            EndKind::EightPlaitTuckedEye => construction == EightPlait,
            EndKind::ToChain => matches!(construction, ThreeStrand | EightPlait),
            EndKind::UnlikeRopes => matches!(construction, TwelveStrand | DoubleBraid(LoadOn::Core)),
            EndKind::ReevingLoop => matches!(construction, TwelveStrand | DoubleBraid(_)),
            EndKind::CommonWhipping | EndKind::StitchedWhipping | EndKind::WhippedEnd | EndKind::SealedEnd => true,
            EndKind::SailmakersWhipping => matches!(construction, ThreeStrand | EightPlait),
        }
    }

    /// The eye a rope built so is usually given; `None` where it takes none.
    #[must_use]
    pub const fn usual_eye(construction: Construction) -> Option<EndKind> {
        match construction {
            Construction::TwelveStrand => Some(EndKind::LongBuryEye),
            Construction::DoubleBraid(LoadOn::Core) => Some(EndKind::CoveredEye),
            Construction::DoubleBraid(LoadOn::Both) => Some(EndKind::CoreAndCoverEye),
            Construction::ThreeStrand => Some(EndKind::TuckedEye),
            Construction::EightPlait => Some(EndKind::EightPlaitTuckedEye),
            Construction::ParallelCore | Construction::Kernmantle => None,
        }
    }
}
