# Sourced by ./run and ./check: what a fresh Debian or Ubuntu machine lacks is
# installed here, and nothing that is already there is touched.
#
#   set_up cc                 a C linker and Rust
#   set_up cc pdftotext       and the program that tests read PDFs with
#   set_up cc browser         and the browser that tests open the pages in
#   set_up postgresql         the server that the store's tests start
#
# Exit codes: 3 when something is missing that cannot be installed from here.

say() { printf '%s\n' "$*" >&2; }

# A linker without the C library's start files links nothing, so one is tried.
links_c() {
    command -v cc >/dev/null || return 1
    local place built=0
    place=$(mktemp -d)
    printf 'int main(void) { return 0; }\n' | cc -x c - -o "$place/tried" 2>/dev/null || built=1
    rm -rf "$place"
    return "$built"
}

# Debian keeps the server's programs off the path.
has_postgresql() {
    command -v initdb >/dev/null || compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null
}

# The Debian packages that bring what the needs named here lack.
missing_packages() {
    local need
    for need in "$@"; do
        case $need in
            cc) links_c || printf '%s\n' gcc libc6-dev ;;
            pdftotext) command -v pdftotext >/dev/null || printf '%s\n' poppler-utils ;;
            postgresql) has_postgresql || printf '%s\n' postgresql ;;
            browser)
                command -v chromium >/dev/null || printf '%s\n' chromium
                command -v chromedriver >/dev/null || printf '%s\n' chromium-driver
                ;;
            python) python3 -c 'import venv, ensurepip' 2>/dev/null || printf '%s\n' python3-venv ;;
            npm) command -v npm >/dev/null || printf '%s\n' npm ;;
            fetcher)
                command -v curl >/dev/null || command -v wget >/dev/null || printf '%s\n' curl
                [[ -e /etc/ssl/certs/ca-certificates.crt ]] || printf '%s\n' ca-certificates
                ;;
        esac
    done
}

# Runs a command as root where that needs no question; 1 where it would.
as_root() {
    if [[ $(id -u) -eq 0 ]]; then
        "$@"
    elif command -v sudo >/dev/null && sudo -n true 2>/dev/null; then
        sudo -n "$@"
    else
        return 1
    fi
}

install_packages() {
    local -a missing
    mapfile -t missing < <(missing_packages "$@")
    [[ ${#missing[@]} -gt 0 ]] || return 0
    if ! command -v apt-get >/dev/null; then
        say "missing: ${missing[*]} (names of Debian packages; there is no apt-get here)"
        say "install them with this system's own tool, then call again"
        exit 3
    fi
    say "installing ${missing[*]}"
    if ! as_root true; then
        say "missing: ${missing[*]}, and installing them needs root. Call this, then try again:"
        say "    sudo apt-get update && sudo apt-get install -y --no-install-recommends ${missing[*]}"
        exit 3
    fi
    # A list that cannot be refreshed may still be good enough to install from.
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq update >&2 || say "the package lists could not be refreshed"
    if ! as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get -qq install -y --no-install-recommends "${missing[@]}" >&2; then
        say "apt-get could not install ${missing[*]}: install them by hand, then call again"
        exit 3
    fi
}

wanted_rust() { sed -n 's/^rust-version *= *"\(.*\)"$/\1/p' Cargo.toml | head -n 1; }

found_rust() { cargo --version 2>/dev/null | sed -n 's/^cargo \([0-9.]*\).*/\1/p'; }

rust_is_new_enough() {
    local wanted found
    wanted=$(wanted_rust)
    found=$(found_rust)
    [[ -n $found ]] && [[ $(printf '%s\n%s\n' "$wanted" "$found" | sort -V | head -n 1) == "$wanted" ]]
}

fetch() {
    if command -v curl >/dev/null; then
        curl --proto '=https' --tlsv1.2 --retry 3 -sSf "$1"
    else
        wget --https-only --tries=3 -qO- "$1"
    fi
}

# Rust from rustup, in the user's own folder; an older one of the system's
# stays where it is and is passed by.
install_rust() {
    rust_is_new_enough && return 0
    export PATH="${CARGO_HOME:-$HOME/.cargo}/bin:$PATH"
    rust_is_new_enough && return 0
    if command -v rustup >/dev/null; then
        say "Rust $(wanted_rust) or newer is wanted: updating stable with rustup"
        rustup toolchain install stable --profile minimal --component clippy --component rustfmt >&2 || rust_failed
        export RUSTUP_TOOLCHAIN=stable
    else
        say "Rust $(wanted_rust) or newer is wanted: installing stable with rustup's own installer"
        install_packages fetcher
        local installer
        installer=$(mktemp)
        fetch https://sh.rustup.rs >"$installer" || rust_failed
        RUSTUP_INIT_SKIP_PATH_CHECK=yes sh "$installer" -y --no-modify-path --profile minimal \
            --default-toolchain stable --component clippy --component rustfmt >&2 || rust_failed
        rm -f "$installer"
        hash -r
    fi
    rust_is_new_enough || rust_failed
}

rust_failed() {
    say "Rust could not be installed: install Rust $(wanted_rust) or newer from https://rustup.rs, then call again"
    exit 3
}

# Formatter and lints, which ./check needs and ./run does not.
install_rust_checks() {
    cargo clippy --version >/dev/null 2>&1 && cargo fmt --version >/dev/null 2>&1 && return 0
    if ! command -v rustup >/dev/null || ! rustup component add clippy rustfmt >&2; then
        say "missing: clippy and rustfmt of this Rust ($(found_rust)). With rustup:"
        say "    rustup component add clippy rustfmt"
        exit 3
    fi
}

# The rules that pages are held to, kept in the target folder; used by tests
# alone, and no part of the program.
bring_axe() {
    local tools=${CARGO_TARGET_DIR:-target}/web-tools
    [[ -s $tools/node_modules/axe-core/axe.min.js ]] && return 0
    install_packages npm
    mkdir -p "$tools"
    if ! npm install --prefix "$tools" --no-save --no-audit --no-fund --ignore-scripts axe-core@4.14.1 >&2; then
        say "axe-core could not be fetched with npm: check the network, then call again"
        exit 3
    fi
}

# The validators that the programme interface's document is judged by, kept in
# the target folder; used by tests alone.
bring_openapi_validator() {
    local place=${CARGO_TARGET_DIR:-target}/web-tools/openapi
    "$place/bin/python" -c 'import openapi_spec_validator' 2>/dev/null && return 0
    install_packages python
    if ! python3 -m venv "$place" >&2 \
        || ! "$place/bin/pip" install --quiet --disable-pip-version-check openapi-spec-validator==0.9.0 >&2; then
        say "openapi-spec-validator could not be fetched with pip: check the network, then call again"
        exit 3
    fi
}

set_up() {
    install_packages "$@"
    install_rust
}
