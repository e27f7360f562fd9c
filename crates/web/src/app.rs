//! What all requests share: the loft's records, sessions, limits, our hosts.

use crate::answers::Answers;
use crate::loft::Loft;
use crate::pace::{CHANGES, Pace, REFUSALS};
use crate::plans::Plans;
use crate::sessions::{SessionLimits, Sessions};
use std::net::IpAddr;
use std::sync::Arc;

/// The application behind the routes.
#[derive(Debug, Clone)]
pub struct App(Arc<Parts>);

/// Its parts.
#[derive(Debug)]
pub struct Parts {
    pub(crate) loft: Loft,
    pub(crate) sessions: Sessions,
    pub(crate) changes: Pace,
    pub(crate) refusals: Pace,
    pub(crate) needs_sign_in: bool,
    hosts: Vec<String>,
    pub(crate) plans: Plans,
    pub(crate) answers: Answers,
}

/// With whom the loft is shared.
#[derive(Debug)]
pub(crate) struct Sharing {
    pub(crate) needs_sign_in: bool,
    pub(crate) hosts: Vec<String>,
    pub(crate) sessions: SessionLimits,
}

impl App {
    pub(crate) fn new(loft: Loft, sharing: Sharing) -> App {
        let Sharing { needs_sign_in, hosts, sessions } = sharing;
        App(Arc::new(Parts {
            loft,
            sessions: Sessions::new(sessions),
            changes: Pace::new(CHANGES),
            refusals: Pace::new(REFUSALS),
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
