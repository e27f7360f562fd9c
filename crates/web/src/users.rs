//! Who may do what in a shared loft, and passwords that are kept as hashes.
//!
//! Roles: a reader looks, a rigger works, an owner also adds users, confirms
//! nothing that a rigger could not, and changes the loft's rules. Passwords
//! are hashed with argon2id (19 MiB, two passes, one lane: the least that the
//! password guidance of OWASP gives for it), each with its own salt, two at a
//! time so that sign-ins cannot fill the memory.

use crate::calendar;
use argon2::password_hash::phc::PasswordHash;
use argon2::{Algorithm, Argon2, Params, PasswordHasher, PasswordVerifier, Version};
use std::sync::LazyLock;
use thiserror::Error;
use tokio::sync::Semaphore;

/// What a user may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Looks.
    Reader,
    /// Works.
    Rigger,
    /// Also adds users and changes the loft's rules.
    Owner,
}

impl Role {
    /// From its word.
    ///
    /// ```
    /// assert_eq!(web::Role::from_word("rigger"), Some(web::Role::Rigger));
    /// assert_eq!(web::Role::from_word("skipper"), None);
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Role> {
        match word.trim() {
            "reader" => Some(Role::Reader),
            "rigger" => Some(Role::Rigger),
            "owner" => Some(Role::Owner),
            _ => None,
        }
    }

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Role::Reader => "reader",
            Role::Rigger => "rigger",
            Role::Owner => "owner",
        }
    }
}

/// A user as the store keeps them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct User {
    pub(crate) name: String,
    pub(crate) role: Role,
    /// argon2id in its usual text form.
    pub(crate) hash: String,
    pub(crate) since: String,
}

/// Why a user was not made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub(crate) enum UserError {
    /// The name.
    #[error("a name of {given} characters was given: 2 to 40 letters, digits, dots and dashes are allowed")]
    Name {
        /// Its length.
        given: usize,
    },
    /// The password.
    #[error("a password of {given} characters was given: 10 to 200 are allowed")]
    Password {
        /// Its length.
        given: usize,
    },
    /// The system.
    #[error("the password could not be hashed: {0}")]
    Hash(String),
}

static AT_ONCE: Semaphore = Semaphore::const_new(2);
static NOBODY: LazyLock<String> = LazyLock::new(|| hash("nobody has this password").unwrap_or_default());

fn hasher() -> Argon2<'static> {
    let params = Params::new(19 * 1024, 2, 1, None).unwrap_or_default();
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
}

/// A new user; the password is hashed and forgotten.
pub(crate) async fn new_user(name: &str, role: Role, password: &str) -> Result<User, UserError> {
    let name = name.trim().to_owned();
    let length = name.chars().count();
    let plain = name.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '.' | '_' | ' '));
    if !(2..=40).contains(&length) || !plain {
        return Err(UserError::Name { given: length });
    }
    let length = password.chars().count();
    if !(10..=200).contains(&length) {
        return Err(UserError::Password { given: length });
    }
    let password = password.to_owned();
    let hash = alone(move || hash(&password)).await.unwrap_or_else(|| Err("interrupted".to_owned()));
    let hash = hash.map_err(UserError::Hash)?;
    Ok(User { name, role, hash, since: calendar::today() })
}

/// Is this the user's password? As long for a user that is not there.
pub(crate) async fn is_right(user: Option<&User>, password: &str) -> bool {
    let (hash, known) = user.map_or_else(|| (NOBODY.clone(), false), |user| (user.hash.clone(), true));
    let password = password.to_owned();
    alone(move || verify(&hash, &password)).await.unwrap_or(false) && known
}

/// Runs slow work away from the pages, two at a time.
async fn alone<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Option<T> {
    let _turn = AT_ONCE.acquire().await.ok()?;
    tokio::task::spawn_blocking(work).await.ok()
}

fn hash(password: &str) -> Result<String, String> {
    let mut salt = [0u8; 16];
    getrandom::fill(&mut salt).map_err(|why| why.to_string())?;
    let hash = hasher().hash_password_with_salt(password.as_bytes(), &salt).map_err(|why| why.to_string())?;
    Ok(hash.to_string())
}

fn verify(hash: &str, password: &str) -> bool {
    PasswordHash::new(hash).is_ok_and(|hash| hasher().verify_password(password.as_bytes(), &hash).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_password_is_kept_as_a_hash_and_known_again() {
        let user = new_user("Ada", Role::Owner, "cold tar and twine").await.expect("a user");
        assert!(user.hash.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{}", user.hash);
        assert!(!user.hash.contains("tar"));
        assert!(is_right(Some(&user), "cold tar and twine").await);
        assert!(!is_right(Some(&user), "cold tar and twin").await);
        assert!(!is_right(None, "nobody has this password").await);
        let again = new_user("Ada", Role::Owner, "cold tar and twine").await.expect("a user");
        assert_ne!(user.hash, again.hash, "each has its own salt");
    }

    #[tokio::test]
    async fn names_and_passwords_are_refused() {
        assert_eq!(new_user("x", Role::Reader, "long enough now").await, Err(UserError::Name { given: 1 }));
        assert_eq!(new_user("<b>hi</b>", Role::Reader, "long enough now").await, Err(UserError::Name { given: 9 }));
        assert_eq!(new_user("Ada", Role::Reader, "short").await, Err(UserError::Password { given: 5 }));
    }
}
