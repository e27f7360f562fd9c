//! A line made up: rope and ends chosen, cut length, weak points.
