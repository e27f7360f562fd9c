//! Sessions of a shared loft: random ids, kept as hashes, that end.
//!
//! A session ends when it is signed out, 12 hours after it began, after two
//! hours without a request, and with the program. What was half typed is
//! kept under the user and not under the session, so nothing is lost by it.

use crate::calendar;
use crate::users::Role;
use sha2::{Digest, Sha256};
use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Longest session, s.
pub(crate) const LONGEST: u64 = 12 * 3600;
/// Longest without a request, s.
const IDLE: u64 = 2 * 3600;
/// Sign-ins tried from one address, or for one user, in a minute.
const TRIES: usize = 8;

/// A session.
#[derive(Debug, Clone)]
pub(crate) struct Session {
    pub(crate) who: String,
    pub(crate) role: Role,
    began: u64,
    seen: u64,
}

/// All sessions, and the sign-ins that were tried.
#[derive(Debug, Default)]
pub(crate) struct Sessions {
    open: Mutex<HashMap<[u8; 32], Session>>,
    tries: Mutex<HashMap<String, Vec<u64>>>,
}

impl Sessions {
    /// Begins one and gives its id.
    pub(crate) fn begin(&self, who: &str, role: Role) -> Option<String> {
        let mut random = [0u8; 32];
        getrandom::fill(&mut random).ok()?;
        let id: String = random.iter().map(|byte| format!("{byte:02x}")).collect();
        let now = calendar::seconds();
        let mut open = held(&self.open);
        open.retain(|_, session| !session.over(now));
        open.insert(key(&id), Session { who: who.to_owned(), role, began: now, seen: now });
        Some(id)
    }

    /// The session of an id, if it has not ended.
    pub(crate) fn find(&self, id: &str) -> Option<Session> {
        let now = calendar::seconds();
        let mut open = held(&self.open);
        let session = open.get_mut(&key(id))?;
        if session.over(now) {
            open.remove(&key(id));
            return None;
        }
        session.seen = now;
        Some(session.clone())
    }

    /// Ends one.
    pub(crate) fn end(&self, id: &str) {
        held(&self.open).remove(&key(id));
    }

    /// Ends all of a user's.
    pub(crate) fn end_all(&self, who: &str) {
        held(&self.open).retain(|_, session| session.who != who);
    }

    /// May another sign-in be tried from here for this user?
    pub(crate) fn may_try(&self, from: IpAddr, who: &str) -> bool {
        let now = calendar::seconds();
        let mut tries = held(&self.tries);
        tries.retain(|_, times| {
            times.retain(|time| time + 60 > now);
            !times.is_empty()
        });
        let mut may = true;
        for key in [format!("address {from}"), format!("user {}", who.to_lowercase())] {
            let times = tries.entry(key).or_default();
            may &= times.len() < TRIES;
            times.push(now);
        }
        may
    }
}

impl Session {
    const fn over(&self, now: u64) -> bool {
        now >= self.began + LONGEST || now >= self.seen + IDLE
    }
}

fn key(id: &str) -> [u8; 32] {
    Sha256::digest(id.as_bytes()).into()
}

/// A table that another thread left in the middle is still a table.
fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_session_is_found_by_its_id_until_it_ends() {
        let sessions = Sessions::default();
        let id = sessions.begin("Ada", Role::Rigger).expect("an id");
        assert_eq!(id.len(), 64);
        assert_eq!(sessions.find(&id).map(|session| session.who), Some("Ada".to_owned()));
        assert!(sessions.find("0".repeat(64).as_str()).is_none());
        sessions.end(&id);
        assert!(sessions.find(&id).is_none());
    }

    #[test]
    fn sessions_end_by_themselves() {
        let session = Session { who: String::new(), role: Role::Reader, began: 1000, seen: 1000 };
        assert!(!session.over(1000 + IDLE - 1) && session.over(1000 + IDLE));
        let busy = Session { seen: 1000 + LONGEST, ..session };
        assert!(busy.over(1000 + LONGEST));
    }

    #[test]
    fn sign_ins_are_counted() {
        let sessions = Sessions::default();
        let here: IpAddr = [10, 0, 0, 7].into();
        assert!((0..TRIES).all(|_| sessions.may_try(here, "Ada")));
        assert!(!sessions.may_try(here, "Ben"), "the address has tried too often");
        assert!(!sessions.may_try([10, 0, 0, 8].into(), "ada"), "the user was tried too often");
    }
}
