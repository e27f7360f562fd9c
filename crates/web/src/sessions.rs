//! Sessions of a shared loft: random ids, kept as hashes, that end.
//!
//! A session ends when it is signed out, a while after it began, a shorter
//! while after its last request, and with the program. Time is the machine's
//! own count since it started and not its clock, so that a clock that is set
//! forward or back ends no session and keeps none. What was half typed is kept
//! under the user and not under the session, so nothing is lost by it.

use crate::users::Role;
use sha2::{Digest, Sha256};
use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// Sign-ins tried from one address, or for one user, in a minute.
const TRIES: usize = 8;
const MINUTE: Duration = Duration::from_secs(60);

/// How long a session lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SessionLimits {
    /// From its beginning; 12 hours where nothing is said.
    pub longest: Duration,
    /// From its last request; 2 hours where nothing is said.
    pub idle: Duration,
}

impl Default for SessionLimits {
    fn default() -> Self {
        SessionLimits { longest: Duration::from_secs(12 * 3600), idle: Duration::from_secs(2 * 3600) }
    }
}

/// A session.
#[derive(Debug, Clone)]
pub(crate) struct Session {
    pub(crate) who: String,
    pub(crate) role: Role,
    began: Instant,
    seen: Instant,
}

/// All sessions, and the sign-ins that were tried.
#[derive(Debug, Default)]
pub(crate) struct Sessions {
    limits: SessionLimits,
    open: Mutex<HashMap<[u8; 32], Session>>,
    tries: Mutex<HashMap<String, Vec<Instant>>>,
}

impl Sessions {
    pub(crate) fn new(limits: SessionLimits) -> Sessions {
        Sessions { limits, ..Sessions::default() }
    }

    /// Longest session, s.
    pub(crate) const fn longest(&self) -> u64 {
        self.limits.longest.as_secs()
    }

    /// Begins one and gives its id.
    pub(crate) fn begin(&self, who: &str, role: Role) -> Option<String> {
        let mut random = [0u8; 32];
        getrandom::fill(&mut random).ok()?;
        let id: String = random.iter().map(|byte| format!("{byte:02x}")).collect();
        let now = Instant::now();
        let mut open = held(&self.open);
        open.retain(|_, session| !session.over(now, &self.limits));
        open.insert(key(&id), Session { who: who.to_owned(), role, began: now, seen: now });
        Some(id)
    }

    /// The session of an id, if it has not ended.
    pub(crate) fn find(&self, id: &str) -> Option<Session> {
        let now = Instant::now();
        let mut open = held(&self.open);
        let session = open.get_mut(&key(id))?;
        if session.over(now, &self.limits) {
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
        let now = Instant::now();
        let mut tries = held(&self.tries);
        tries.retain(|_, times| {
            times.retain(|time| now.duration_since(*time) < MINUTE);
            !times.is_empty()
        });
        let mut may = true;
        for key in [format!("address {from}"), format!("user {}", who.to_lowercase())] {
            let times = tries.entry(key).or_default();
            may &= times.len() < TRIES;
            // One more than is allowed shows that it was too many.
            if times.len() <= TRIES {
                times.push(now);
            }
        }
        may
    }
}

impl Session {
    fn over(&self, now: Instant, limits: &SessionLimits) -> bool {
        now.duration_since(self.began) >= limits.longest || now.duration_since(self.seen) >= limits.idle
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
        let limits = SessionLimits::default();
        let began = Instant::now();
        let session = Session { who: String::new(), role: Role::Reader, began, seen: began };
        let second = Duration::from_secs(1);
        assert!(!session.over(began + limits.idle - second, &limits) && session.over(began + limits.idle, &limits));
        let busy = Session { seen: began + limits.longest - second, ..session };
        assert!(!busy.over(began + limits.longest - second, &limits) && busy.over(began + limits.longest, &limits));
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
