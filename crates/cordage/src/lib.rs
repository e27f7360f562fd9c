//! Fibres, constructions and ropes: strength, stretch, weight, bending.
