//! Boat, sails and wind: the load on each line, its lead and its length.
