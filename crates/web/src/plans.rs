//! Cut plans that were worked out, held until they are confirmed or the rack
//! or an order changes.
//!
//! A plan is named by what it was made from: orders, rope list and rack. The
//! same question gets the same plan without working it out again, and a plan
//! whose rack has changed is not found, so it cannot be confirmed.

use desk::{CutAnswer, Picture};
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// Plans held at once.
const HELD: usize = 24;

/// A plan with what it was made from.
#[derive(Debug)]
pub(crate) struct Planned {
    pub(crate) id: String,
    pub(crate) orders: Vec<String>,
    pub(crate) cut: Arc<CutDrawn>,
}

/// A plan with its bars: rope, narrow picture, wide picture.
#[derive(Debug, Serialize)]
pub(crate) struct CutDrawn {
    pub(crate) answer: CutAnswer,
    pub(crate) bars: Vec<(String, Picture, Picture)>,
}

/// The plans held.
#[derive(Debug, Default)]
pub(crate) struct Plans(Mutex<VecDeque<Arc<Planned>>>);

impl Plans {
    pub(crate) fn find(&self, id: &str) -> Option<Arc<Planned>> {
        let held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        held.iter().find(|plan| plan.id == id).cloned()
    }

    pub(crate) fn keep(&self, plan: Planned) -> Arc<Planned> {
        let plan = Arc::new(plan);
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        held.retain(|other| other.id != plan.id);
        if held.len() == HELD {
            held.pop_front();
        }
        held.push_back(Arc::clone(&plan));
        plan
    }
}

/// The name of what a plan is made from.
pub(crate) fn name_of<'a>(parts: impl IntoIterator<Item = &'a str>) -> String {
    let mut digest = Sha256::new();
    for part in parts {
        digest.update((part.len() as u64).to_be_bytes());
        digest.update(part.as_bytes());
    }
    let bytes: [u8; 32] = digest.finalize().into();
    bytes.iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::name_of;

    #[test]
    fn another_rack_is_another_plan() {
        assert_eq!(name_of(["order", "rack"]), name_of(["order", "rack"]));
        assert_ne!(name_of(["order", "rack"]), name_of(["orde", "rrack"]));
        assert_eq!(name_of(["a"]).len(), 16);
    }
}
