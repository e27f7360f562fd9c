//! Geometry to SVG drawings, in millimetres.
