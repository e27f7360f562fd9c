//! Both databases: a fresh store on each, for every test.
//!
//! The server is Debian's, with a data folder of its own, on a free port of
//! the loopback. It ends with the test program, however that ends: a shell
//! holds it, and waits for the end of its own input. Root may not run
//! PostgreSQL, so root runs it as the user postgres.

use std::io::Write;
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};
use store::{Place, Stamp, Store};

/// Set to do without PostgreSQL; unset, its absence is a failure.
const WITHOUT: &str = "BECKET_WITHOUT_POSTGRES";

/// Runs a test on a fresh store of each database.
pub fn on_both(test: impl AsyncFn(Store)) {
    let folder = tempfile::tempdir().unwrap();
    wait(async {
        let store = Store::open(&Place::File(folder.path().join("loft.becket"))).await.unwrap();
        test(store.clone()).await;
        store.close().await;
    });
    if let Some(place) = fresh_server_place() {
        wait(async {
            let store = Store::open(&place).await.unwrap();
            test(store.clone()).await;
            store.close().await;
        });
    }
}

/// A place on the server where there is nothing yet; none when the tests were
/// told to do without.
pub fn fresh_server_place() -> Option<Place> {
    static SERVER: OnceLock<Option<Server>> = OnceLock::new();
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let server = SERVER.get_or_init(|| found_or_told().map(|programs| Server::start(&programs))).as_ref()?;
    let name = format!("t{}", NEXT.fetch_add(1, Ordering::Relaxed));
    server.make_schema(&name);
    Some(Place::parse(&format!("{}?options=-csearch_path%3D{name}", server.url())))
}

/// Waits for work on as many threads as there are.
pub fn wait<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap().block_on(work)
}

/// Somebody at some second of a day.
pub fn stamp(who: &str, second: u32) -> Stamp {
    let (hour, minute) = (second / 3600, second / 60 % 60);
    Stamp::new(who, &format!("2026-11-25T{hour:02}:{minute:02}:{:02}Z", second % 60)).unwrap()
}

/// The folder of PostgreSQL's programs. Missing, it is a failure that says
/// what to install, or a line on the terminal when the tests were told so.
pub fn found_or_told() -> Option<PathBuf> {
    let found = programs();
    if found.is_none() {
        assert!(
            std::env::var_os(WITHOUT).is_some(),
            "PostgreSQL is not installed, and half of this test needs it: install Debian's package postgresql \
             (./check does), or set {WITHOUT}=1 to do without"
        );
        // Past the test runner, which keeps what passing tests print.
        let _ = writeln!(std::io::stderr(), "SKIPPED on PostgreSQL, which is not installed: {WITHOUT} is set");
    }
    found
}

fn programs() -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let mut folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let versions = std::fs::read_dir("/usr/lib/postgresql").into_iter().flatten().flatten();
    folders.extend(versions.map(|version| version.path().join("bin")));
    folders.into_iter().find(|folder| folder.join("initdb").exists() && folder.join("postgres").exists())
}

/// A server with nothing in it.
pub struct Server {
    holder: Child,
    folder: PathBuf,
    programs: PathBuf,
    port: u16,
}

impl Server {
    /// Starts one and waits until it answers.
    pub fn start(programs: &Path) -> Server {
        let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let folder = std::env::temp_dir().join(format!("becket-postgres-{}-{port}", std::process::id()));
        let made = as_postgres(&programs.join("initdb"))
            .args(["--pgdata".as_ref(), folder.as_os_str()])
            .args(["--auth=trust", "--username=loft", "--encoding=UTF8", "--no-locale", "--no-sync"])
            .output()
            .unwrap();
        assert!(made.status.success(), "initdb: {}", String::from_utf8_lossy(&made.stderr));
        let server = Server { holder: hold(programs, &folder, port), folder, programs: programs.to_owned(), port };
        server.wait_until_it_answers();
        server
    }

    pub fn url(&self) -> String {
        format!("postgres://loft@127.0.0.1:{}/postgres", self.port)
    }

    /// Stops it as a pulled plug does; its data stay.
    pub fn stop(&mut self) {
        let path = self.folder.join("postmaster.pid");
        let number = std::fs::read_to_string(path).unwrap().lines().next().unwrap().to_owned();
        let killed = Command::new("kill").args(["-QUIT", &number]).status().unwrap();
        assert!(killed.success());
        let begun = Instant::now();
        while std::net::TcpStream::connect(("127.0.0.1", self.port)).is_ok() {
            assert!(begun.elapsed() < Duration::from_secs(20), "PostgreSQL does not stop");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Starts it again on the same port.
    pub fn start_again(&mut self) {
        let holder = hold(&self.programs, &self.folder, self.port);
        // The old holder would remove the data when its input ends.
        let mut old = std::mem::replace(&mut self.holder, holder);
        old.kill().unwrap();
        old.wait().unwrap();
        self.wait_until_it_answers();
    }

    fn wait_until_it_answers(&self) {
        let begun = Instant::now();
        while !self.answers() {
            assert!(begun.elapsed() < Duration::from_secs(60), "PostgreSQL does not answer on port {}", self.port);
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    fn answers(&self) -> bool {
        use sqlx::Connection;
        let own = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        own.block_on(async { sqlx::PgConnection::connect(&self.url()).await.is_ok() })
    }

    fn make_schema(&self, name: &str) {
        wait(async {
            use sqlx::{Connection, Executor};
            let mut connection = sqlx::PgConnection::connect(&self.url()).await.unwrap();
            let statement = sqlx::AssertSqlSafe(format!("CREATE SCHEMA {name}"));
            connection.execute(sqlx::raw_sql(statement)).await.unwrap();
        });
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        drop(self.holder.stdin.take());
        let _ = self.holder.wait();
    }
}

/// Starts the server under a shell that ends it, and removes its data, when
/// our end of the shell's input is closed: also by our own death.
fn hold(programs: &Path, folder: &Path, port: u16) -> Child {
    let script = "\"$1\" -D \"$2\" -p \"$3\" -c listen_addresses=127.0.0.1 -c unix_socket_directories= \
                  -c fsync=off -c max_connections=100 >\"$2/log\" 2>&1 & \
                  cat >/dev/null; while kill -QUIT $! 2>/dev/null; do sleep 0.1; done; rm -rf \"$2\"";
    as_postgres(Path::new("sh"))
        .args(["-c", script, "sh"])
        .args([programs.join("postgres").as_os_str(), folder.as_os_str(), port.to_string().as_ref()])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// A program, as the user postgres where we are root.
fn as_postgres(program: &Path) -> Command {
    let root = Command::new("id").arg("-u").output().unwrap().stdout == b"0\n";
    if !root {
        return Command::new(program);
    }
    let mut command = Command::new("setpriv");
    command.args(["--reuid=postgres", "--regid=postgres", "--clear-groups", "--"]).arg(program);
    command.current_dir(std::env::temp_dir());
    command
}
