//! What an order costs, in exact decimals.
