//! Pieces from reels with proven least waste, in whole millimetres.
