//! Ends: layout, marks, taper, grip, shrinkage, weak points.
