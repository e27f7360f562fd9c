//! A port opened, its address printed, pages served until the program ends.

use crate::app::{App, Sharing};
use crate::loft::Loft;
use crate::refusal::problem;
use crate::routes::router;
use crate::sessions::SessionLimits;
use crate::users::{self, Role};
use desk::Problem;
use std::io::Write;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};

/// How the pages are served.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Options {
    /// Where the records are kept: a file, or a `postgres://` address.
    pub store: String,
    /// The address to listen on; beyond loopback users must sign in.
    pub listen: IpAddr,
    /// The port; 0 takes any that is free.
    pub port: u16,
    /// Names under which the machine may be asked for, besides numbers.
    pub hosts: Vec<String>,
    /// How long a session of a shared loft lasts.
    pub sessions: SessionLimits,
}

impl Default for Options {
    fn default() -> Self {
        Options {
            store: "becket.db".to_owned(),
            listen: IpAddr::V4(Ipv4Addr::LOCALHOST),
            port: 4310,
            hosts: Vec::new(),
            sessions: SessionLimits::default(),
        }
    }
}

impl Options {
    fn shared(&self) -> bool {
        !self.listen.is_loopback()
    }
}

/// Serves the pages until it is interrupted. `say` is told the address.
///
/// # Errors
/// When the store cannot be opened, the port is taken, or the loft is to be
/// shared and has no owner yet.
pub fn serve(options: &Options, say: impl FnOnce(&str)) -> Result<(), Problem> {
    runtime()?.block_on(async {
        let app = open(options).await?;
        let at = SocketAddr::new(options.listen, options.port);
        let listener = tokio::net::TcpListener::bind(at).await.map_err(|why| {
            problem(
                "port-taken",
                format!("{at} cannot be listened on: {why}"),
                "give another --port, or 0 for any that is free",
            )
        })?;
        let at = listener.local_addr().map_err(|why| Problem::disk(&why.to_string()))?;
        say(&format!("http://{at}/"));
        let loft = app.loft.clone();
        let service = router(app).into_make_service_with_connect_info::<SocketAddr>();
        let ended = axum::serve(listener, service).with_graceful_shutdown(interrupted()).await;
        // A file then stands alone, without its journal.
        loft.close().await;
        ended.map_err(|why| Problem::disk(&why.to_string()))
    })
}

/// Adds a user to a store, or gives one a new password and role.
///
/// # Errors
/// When the store cannot be opened or the name or password is refused.
pub fn add_user(store: &str, name: &str, role: Role, password: &str) -> Result<(), Problem> {
    runtime()?.block_on(async {
        let loft = Loft::open(store).await?;
        let user = users::new_user(name, role, password).await;
        let user = user.map_err(|why| problem("user-refused", why.to_string(), "give another name or password"))?;
        loft.put_user(&user, "the command line").await?;
        loft.close().await;
        Ok(())
    })
}

/// The application over its store, without a port.
///
/// # Errors
/// When the store cannot be opened, or the loft is to be shared and has no owner yet.
pub async fn open(options: &Options) -> Result<App, Problem> {
    let loft = Loft::open(&options.store).await?;
    if options.shared() && !loft.users().await?.iter().any(|user| user.role == Role::Owner) {
        return Err(problem(
            "no-owner",
            format!("{} is beyond this machine, and the loft has no owner who could sign in", options.listen),
            "first add one: becket pages --add-user NAME --role owner",
        ));
    }
    let sharing = Sharing { needs_sign_in: options.shared(), hosts: options.hosts.clone(), sessions: options.sessions };
    Ok(App::new(loft, sharing))
}

fn runtime() -> Result<tokio::runtime::Runtime, Problem> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build();
    runtime.map_err(|why| Problem::disk(&format!("the pages cannot start: {why}")))
}

/// Waits for the interrupt key or a request to end.
async fn interrupted() {
    let key = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let term = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let term = std::future::pending::<()>();
    tokio::select! { () = key => {} () = term => {} }
    let _ = writeln!(std::io::stderr(), "becket: ending");
}
