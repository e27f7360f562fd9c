//! A PostgreSQL server of the test's own, on a free port of the loopback. A
//! shell holds it and ends it with the test, however that ends. Root may not
//! run PostgreSQL, so root runs it as the user postgres.

use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Set to do without PostgreSQL; unset, its absence is a failure.
const WITHOUT: &str = "BECKET_WITHOUT_POSTGRES";

pub struct Server {
    holder: Child,
    folder: PathBuf,
    programs: PathBuf,
    port: u16,
}

impl Server {
    /// Starts one; none when the tests were told to do without.
    pub fn start() -> Option<Server> {
        let Some(programs) = programs() else {
            assert!(
                std::env::var_os(WITHOUT).is_some(),
                "PostgreSQL is needed: ./check installs it, or set {WITHOUT}=1"
            );
            return None;
        };
        let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let folder = std::env::temp_dir().join(format!("becket-pages-postgres-{}-{port}", std::process::id()));
        let made = as_postgres(&programs.join("initdb"))
            .args(["--pgdata".as_ref(), folder.as_os_str()])
            .args(["--auth=trust", "--username=loft", "--encoding=UTF8", "--no-locale", "--no-sync"])
            .output()
            .unwrap();
        assert!(made.status.success(), "initdb: {}", String::from_utf8_lossy(&made.stderr));
        let server = Server { holder: hold(&programs, &folder, port), folder, programs, port };
        server.wait_until_it_answers();
        Some(server)
    }

    pub fn url(&self) -> String {
        format!("postgres://loft@127.0.0.1:{}/postgres", self.port)
    }

    /// Stops it as a pulled plug does; its data stay.
    pub fn stop(&self) {
        let path = self.folder.join("postmaster.pid");
        let number = std::fs::read_to_string(path).unwrap().lines().next().unwrap().to_owned();
        assert!(Command::new("kill").args(["-QUIT", &number]).status().unwrap().success());
        let begun = Instant::now();
        while TcpStream::connect(("127.0.0.1", self.port)).is_ok() {
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
        let url = self.url();
        let asks = || desk::records::wait(desk::records::Records::open(&url)).is_ok_and(|opened| opened.is_ok());
        while !asks() {
            assert!(begun.elapsed() < Duration::from_secs(60), "PostgreSQL does not answer on port {}", self.port);
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        drop(self.holder.stdin.take());
        let _ = self.holder.wait();
    }
}

fn programs() -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let mut folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let versions = std::fs::read_dir("/usr/lib/postgresql").into_iter().flatten().flatten();
    folders.extend(versions.map(|version| version.path().join("bin")));
    folders.into_iter().find(|folder| folder.join("initdb").exists() && folder.join("postgres").exists())
}

fn hold(programs: &Path, folder: &Path, port: u16) -> Child {
    let script = "\"$1\" -D \"$2\" -p \"$3\" -c listen_addresses=127.0.0.1 -c unix_socket_directories= \
                  -c fsync=off >\"$2/log\" 2>&1 & \
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
