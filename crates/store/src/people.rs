//! Who may do what: users and their roles, sessions that end, and a list of
//! every refusal.
//!
//! Secrets come in as they are to be kept: a password as its argon2id text, a
//! session as the hash of its token. Neither goes into history or export.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::{record, words};
use crate::stamp::Stamp;

words! {
    /// What a user may do.
    Role {
        /// Everything, users included.
        "owner" => Owner,
        /// Everything at the bench.
        "rigger" => Rigger,
        /// Look.
        "reader" => Reader,
    }
}

words! {
    /// Whether a user may sign in.
    UserState {
        /// May.
        "active" => Active,
        /// May not any more.
        "closed" => Closed,
    }
}

record! {
    /// A user.
    User "user" in "users" by [name] {
        /// The name that is signed in with.
        name: String,
        /// What the user may do.
        role: Role,
        /// Whether the user may sign in.
        state: UserState,
        /// The password's argon2id text.
        #[serde(skip)]
        secret: String,
        /// How often it has changed; 1 at first.
        revision: i64,
        /// When it changed last.
        at: String,
        /// Who changed it last.
        who: String,
    }
}

record! {
    /// A user signed in.
    Session "session" in "sessions" by [id] {
        /// The hash of the token that the browser has.
        #[serde(skip)]
        id: String,
        /// Who.
        user_name: String,
        /// The token that forms must carry.
        #[serde(skip)]
        token: String,
        /// Since when.
        begun_at: String,
        /// When it was last used.
        seen_at: String,
        /// When it ends, used or not.
        ends_at: String,
        /// From where.
        address: String,
    }
}

record! {
    /// Something that was refused.
    Refusal "refusal" in "refusals" by [seq] {
        /// Its number.
        seq: i64,
        /// What was asked.
        what: String,
        /// Why it was refused.
        why: String,
        /// From where.
        address: String,
        /// When.
        at: String,
        /// Who, as far as it is known.
        who: String,
    }
}

/// A user as an owner sets it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UserFacts<'a> {
    /// The name.
    pub name: &'a str,
    /// What the user may do.
    pub role: Role,
    /// Whether the user may sign in.
    pub state: UserState,
    /// The password's argon2id text; none keeps the one there is.
    pub secret: Option<&'a str>,
}

impl Store {
    /// Sets a user, new or known. A user who is closed, or gets another
    /// password or role, is signed out everywhere.
    ///
    /// # Errors
    /// [`Error::Value`] for a new user without a password, or when no active
    /// owner would be left.
    pub async fn set_user(&self, facts: UserFacts<'_>, stamp: &Stamp) -> Result<User, Error> {
        let mut work = self.writing().await?;
        // One turn for all, for the last owner is a matter of all of them.
        work.turn("users").await?;
        let before: Option<User> = work.find(&[Cell::text(facts.name)]).await?;
        let kept = before.as_ref().map(|before| before.secret.clone());
        let Some(secret) = facts.secret.map(str::to_owned).or(kept) else {
            let allowed = "a password, for a new user".to_owned();
            return Err(Error::Value { field: "password", given: String::new(), allowed });
        };
        let user = User {
            name: facts.name.to_owned(),
            role: facts.role,
            state: facts.state,
            secret,
            revision: before.as_ref().map_or(0, |before| before.revision) + 1,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        match before {
            Some(before) => {
                work.replace(stamp, &before, &user).await?;
                work.run("DELETE FROM sessions WHERE user_name = $1", &[Cell::text(facts.name)]).await?;
            }
            None => work.insert(stamp, &user).await?,
        }
        let owners = "SELECT COUNT(*) FROM users WHERE role = 'owner' AND state = 'active'";
        if work.all::<(i64,)>(owners, &[]).await? == [(0,)] {
            let given = format!("{}, {}", facts.role.word(), facts.state.word());
            let allowed = "an active owner, for there is no other".to_owned();
            return Err(Error::Value { field: "user", given, allowed });
        }
        work.commit().await?;
        Ok(user)
    }

    /// One user; none when there is none of the name.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn user(&self, name: &str) -> Result<Option<User>, Error> {
        self.reading().await?.find(&[Cell::text(name)]).await
    }

    /// All users, by name.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn users(&self) -> Result<Vec<User>, Error> {
        self.reading().await?.list("ORDER BY name", &[]).await
    }

    /// Keeps a session of an active user.
    ///
    /// # Errors
    /// [`Error::Missing`] when there is no such active user; [`Error::Taken`].
    pub async fn begin_session(&self, session: &Session) -> Result<(), Error> {
        let mut work = self.writing().await?;
        let user: User = work.hold(&[Cell::text(&session.user_name)]).await?;
        if user.state != UserState::Active {
            return Err(Error::Missing { kind: "active user", id: session.user_name.clone() });
        }
        work.put(session).await?;
        work.commit().await
    }

    /// A session that has not ended by `now`, and its user, who is active.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn session(&self, id: &str, now: &str) -> Result<Option<(Session, User)>, Error> {
        let mut work = self.reading().await?;
        let Some(session) = work.find::<Session>(&[Cell::text(id)]).await? else { return Ok(None) };
        let user: Option<User> = work.find(&[Cell::text(&session.user_name)]).await?;
        let user = user.filter(|user| user.state == UserState::Active && session.ends_at.as_str() > now);
        Ok(user.map(|user| (session, user)))
    }

    /// Notes that a session was used.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub async fn touch_session(&self, id: &str, now: &str) -> Result<(), Error> {
        let mut work = self.writing().await?;
        work.run("UPDATE sessions SET seen_at = $1 WHERE id = $2", &[Cell::text(now), Cell::text(id)]).await?;
        work.commit().await
    }

    /// Ends a session, and forgets all that ended before `now`.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub async fn end_session(&self, id: &str, now: &str) -> Result<(), Error> {
        let mut work = self.writing().await?;
        let cells = [Cell::text(id), Cell::text(now)];
        work.run("DELETE FROM sessions WHERE id = $1 OR ends_at <= $2", &cells).await?;
        work.commit().await
    }

    /// Writes a refusal down.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub async fn note_refusal(&self, what: &str, why: &str, address: &str, stamp: &Stamp) -> Result<Refusal, Error> {
        let mut refusal = Refusal {
            seq: 0,
            what: what.to_owned(),
            why: why.to_owned(),
            address: address.to_owned(),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        let mut work = self.writing().await?;
        refusal.seq = work.append(&refusal).await?;
        work.commit().await?;
        Ok(refusal)
    }

    /// The latest refusals, newest first, at most `most`.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn refusals(&self, most: u32) -> Result<Vec<Refusal>, Error> {
        self.reading().await?.list("ORDER BY seq DESC LIMIT $1", &[Cell::whole(i64::from(most))]).await
    }
}
