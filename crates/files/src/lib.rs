//! Order, rack and rope files to plain records, with the place of every value.
