//! What all requests share: the loft's records, sessions, limits, our hosts.

use crate::answers::Answers;
use crate::loft::Loft;
use crate::plans::Plans;
use crate::sessions::Sessions;
use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};

/// The application behind the routes.
#[derive(Debug, Clone)]
pub struct App(Arc<Parts>);

/// Its parts.
#[derive(Debug)]
pub struct Parts {
    pub(crate) loft: Loft,
    pub(crate) sessions: Sessions,
    pub(crate) pace: Pace,
    pub(crate) needs_sign_in: bool,
    hosts: Vec<String>,
    pub(crate) plans: Plans,
    pub(crate) answers: Answers,
}

impl App {
    pub(crate) fn new(loft: Loft, needs_sign_in: bool, hosts: Vec<String>) -> App {
        App(Arc::new(Parts {
            loft,
            sessions: Sessions::default(),
            pace: Pace::default(),
            needs_sign_in,
            hosts,
            plans: Plans::default(),
            answers: Answers::default(),
        }))
    }

    /// Is this host ours? Numbers are: a name that somebody else made point
    /// here is what the list keeps out.
    pub(crate) fn is_ours(&self, host: &str) -> bool {
        let name = match host.strip_prefix('[') {
            Some(rest) => rest.split(']').next().unwrap_or_default(),
            None => host.split(':').next().unwrap_or_default(),
        };
        match name.parse::<IpAddr>() {
            Ok(address) => address.is_loopback() || self.needs_sign_in,
            Err(_) => {
                name.eq_ignore_ascii_case("localhost") || self.hosts.iter().any(|ours| ours.eq_ignore_ascii_case(name))
            }
        }
    }
}

impl std::ops::Deref for App {
    type Target = Parts;

    fn deref(&self) -> &Parts {
        &self.0
    }
}

/// How many changes each caller has made in this minute.
#[derive(Debug, Default)]
pub(crate) struct Pace(Mutex<HashMap<String, (u64, u32)>>);

/// Changes in a minute: drafts are kept as somebody types, so not few.
const CHANGES: u32 = 600;

impl Pace {
    /// May this caller change something now?
    pub(crate) fn may(&self, who: &str) -> bool {
        let minute = crate::calendar::seconds() / 60;
        let mut table = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        table.retain(|_, (of, _)| *of == minute);
        let (_, count) = table.entry(who.to_owned()).or_insert((minute, 0));
        *count += 1;
        *count <= CHANGES
    }
}
