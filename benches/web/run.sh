#!/usr/bin/env bash
# Measures the pages and writes benches/web/REPORT.md. Needs python3, chromium and
# chromedriver (./check installs them); takes minutes. Without words it builds the
# release program; `run.sh PROGRAM WORDS` measures that one, and WORDS say what it is.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

becket=${1:-}
kind=${2:-a release build}
if [[ -z $becket ]]; then
    cargo build --locked --release -p becket-cli --bin becket >&2
    becket=${CARGO_TARGET_DIR:-target}/release/becket
fi
tools=$(mktemp -d)
report=$(mktemp benches/web/REPORT.XXXXXX.tmp)
trap 'rm -rf "$report" "$tools"' EXIT
# The client is the standard library alone.
rustc --edition 2024 -O benches/web.rs -o "$tools/clients" >&2
{
    echo '# How the pages bear a loft'
    echo
    # shellcheck disable=SC2016
    echo 'Written by `benches/web/run.sh`, measured from outside: whole requests over'
    echo "loopback, connection included, clients on the same cores. Measured: $kind."
    echo
    python3 benches/web/measure.py "$becket" "$tools/clients"
    echo
    echo "Measured on $(date +%Y-%m-%d), $(nproc) cores; the machine's load when it began: $(cut -d' ' -f1 /proc/loadavg)."
} >"$report"
chmod 644 "$report"
mv "$report" benches/web/REPORT.md
echo "written: benches/web/REPORT.md"
