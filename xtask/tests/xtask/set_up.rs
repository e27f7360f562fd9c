//! `scripts/set-up.bash` on machines that lack things, played by a folder of
//! stand-in programs: nothing is installed and no network is asked.

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::PathBuf;
use std::process::{Command, Output};

/// A machine with nothing but the tools that every Debian has.
struct Machine {
    folder: PathBuf,
}

const ALWAYS_THERE: &[&str] = &["bash", "sh", "env", "sed", "sort", "head", "mktemp", "rm", "cat", "chmod", "mkdir"];
const LINKER: &str = "cat >/dev/null";
const NEW_CARGO: &str = "echo 'cargo 99.0.0 (0 2026-01-01)'";
const OLD_CARGO: &str = "echo 'cargo 1.70.0 (0 2023-06-01)'";
const ROOT: &str = "echo 0";
const NOBODY: &str = "echo 1000";

/// Downloads an installer that puts a new cargo into the user's folder.
const INSTALLER: &str = r#"cat <<'END'
echo "installer $*" >>"$HOME/calls"
mkdir -p "$HOME/.cargo/bin"
printf '#!/bin/sh\necho "cargo 99.0.0 (0 2026-01-01)"\n' >"$HOME/.cargo/bin/cargo"
chmod +x "$HOME/.cargo/bin/cargo"
END"#;

/// Notes how it was called, and brings a linker.
const APT: &str = r#"echo "apt-get $*" >>"$HOME/calls"
for word in "$@"; do [ "$word" != gcc ] || { printf '#!/bin/sh\ncat >/dev/null\n' >"$HOME/bin/cc"; chmod +x "$HOME/bin/cc"; }; done"#;

impl Machine {
    fn with(name: &str, programs: &[(&str, &str)]) -> Self {
        let folder = std::env::temp_dir().join(format!("becket-set-up-{}-{name}", std::process::id()));
        fs::create_dir_all(folder.join("bin")).unwrap();
        let search = std::env::var_os("PATH").unwrap();
        for tool in ALWAYS_THERE {
            let found = std::env::split_paths(&search).map(|place| place.join(tool)).find(|place| place.is_file());
            symlink(found.unwrap(), folder.join("bin").join(tool)).unwrap();
        }
        for (program, script) in programs {
            let place = folder.join("bin").join(program);
            fs::write(&place, format!("#!/bin/sh\n{script}\n")).unwrap();
            fs::set_permissions(&place, fs::Permissions::from_mode(0o755)).unwrap();
        }
        Machine { folder }
    }

    fn set_up(&self, needs: &str) -> (Option<i32>, String) {
        let own = PathBuf::from(std::env::var_os("CARGO_MANIFEST_DIR").unwrap());
        let root = own.parent().unwrap();
        let script = format!("set -euo pipefail; source scripts/set-up.bash; set_up {needs}; cargo --version");
        let output: Output = Command::new(self.folder.join("bin/bash"))
            .args(["-c", &script])
            .current_dir(root)
            .env_clear()
            .env("PATH", self.folder.join("bin"))
            .env("HOME", &self.folder)
            .output()
            .unwrap();
        let said = [output.stdout, output.stderr].concat();
        (output.status.code(), String::from_utf8(said).unwrap())
    }

    /// How apt-get and the installer were called.
    fn calls(&self) -> String {
        fs::read_to_string(self.folder.join("calls")).unwrap_or_default()
    }
}

impl Drop for Machine {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

#[test]
fn a_machine_with_everything_is_left_alone() {
    let machine = Machine::with("full", &[("cc", LINKER), ("cargo", NEW_CARGO), ("pdftotext", ""), ("apt-get", APT)]);
    let (code, said) = machine.set_up("cc pdftotext");
    assert_eq!((code, said.as_str()), (Some(0), "cargo 99.0.0 (0 2026-01-01)\n"));
    assert_eq!(machine.calls(), "");
}

#[test]
fn root_gets_the_missing_packages_and_no_others() {
    let machine = Machine::with("root", &[("id", ROOT), ("cargo", NEW_CARGO), ("apt-get", APT)]);
    let (code, said) = machine.set_up("cc pdftotext");
    assert_eq!(code, Some(0), "{said}");
    let calls = machine.calls();
    assert_eq!(
        calls,
        "apt-get -qq update\napt-get -qq install -y --no-install-recommends gcc libc6-dev poppler-utils\n"
    );
}

#[test]
fn a_linker_that_links_nothing_counts_as_missing() {
    let machine = Machine::with("broken", &[("id", ROOT), ("cc", "exit 1"), ("cargo", NEW_CARGO), ("apt-get", APT)]);
    let (code, said) = machine.set_up("cc");
    assert_eq!(code, Some(0), "{said}");
    assert!(machine.calls().ends_with("gcc libc6-dev\n"), "{}", machine.calls());
}

#[test]
fn without_root_the_command_is_told_and_nothing_is_done() {
    let machine = Machine::with("user", &[("id", NOBODY), ("cargo", NEW_CARGO), ("apt-get", APT)]);
    let (code, said) = machine.set_up("cc");
    assert_eq!(code, Some(3));
    assert!(said.contains("sudo apt-get install -y --no-install-recommends gcc libc6-dev"), "{said}");
    assert_eq!(machine.calls(), "");
}

#[test]
fn sudo_that_would_ask_for_a_password_is_not_used() {
    let programs = [("id", NOBODY), ("cargo", NEW_CARGO), ("apt-get", APT), ("sudo", "exit 1")];
    let (code, said) = Machine::with("asks", &programs).set_up("cc");
    assert_eq!(code, Some(3), "{said}");
    let programs =
        [("id", NOBODY), ("cargo", NEW_CARGO), ("apt-get", APT), ("sudo", "shift; exec \"$@\""), ("true", "")];
    let machine = Machine::with("sudo", &programs);
    let (code, said) = machine.set_up("cc");
    assert_eq!(code, Some(0), "{said}");
    assert!(machine.calls().contains("gcc libc6-dev"), "{}", machine.calls());
}

#[test]
fn another_system_is_told_the_names() {
    let (code, said) = Machine::with("other", &[("id", ROOT), ("cargo", NEW_CARGO)]).set_up("cc");
    assert_eq!(code, Some(3));
    assert!(said.contains("missing: gcc libc6-dev") && said.contains("no apt-get here"), "{said}");
}

#[test]
fn rust_that_is_absent_or_old_is_installed_in_the_users_folder() {
    let absent = Machine::with("absent", &[("id", ROOT), ("cc", LINKER), ("apt-get", APT), ("curl", INSTALLER)]);
    let old = [("id", ROOT), ("cc", LINKER), ("apt-get", APT), ("curl", INSTALLER), ("cargo", OLD_CARGO)];
    for machine in [absent, Machine::with("old", &old)] {
        let (code, said) = machine.set_up("cc");
        assert_eq!(code, Some(0), "{said}");
        assert!(said.contains("cargo 99.0.0"), "{said}");
        let calls = machine.calls();
        assert!(calls.contains("installer -y") && calls.contains("--component clippy --component rustfmt"), "{calls}");
    }
}

#[test]
fn rust_that_cannot_be_had_is_a_refusal_that_says_where() {
    let programs = [("id", ROOT), ("cc", LINKER), ("apt-get", APT), ("curl", "exit 6")];
    let (code, said) = Machine::with("offline", &programs).set_up("cc");
    assert_eq!(code, Some(3));
    assert!(said.contains("Rust could not be installed") && said.contains("https://rustup.rs"), "{said}");
}
