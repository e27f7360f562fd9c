#!/usr/bin/env bash
# Times the sweep of a boat and a table of ten thousand, and writes REPORT.md.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

target=${CARGO_TARGET_DIR:-target}
program=${BECKET:-$target/release/becket}
[ -n "${BECKET:-}" ] || cargo build --locked --release -p becket-cli --bin becket >&2
report=$(mktemp benches/rig/REPORT.XXXXXX.tmp)
trap 'rm -f "$report"' EXIT
{
    cat <<'HEAD'
# How long loads take

Written by `benches/rig/run.sh`.

| what is done | goal |
|---|---|
| 60 lines of a boat in 20 winds and 30 angles, the worst of each | 100 ms |
| 10,000 boats from a table on two cores, a row a boat | 60 s, memory flat |

A righting moment that is estimated is swept at both ends of its band too: three
sweeps for one. The boats are made up (`fleet.py`), half of the sloops with their
dimensions, the others from length and displacement, all with an estimated moment.

HEAD
    echo '```text'
    cargo bench --locked -q -p benches --bench rig | sed 's/[[:space:]]*$//'
    echo
    python3 benches/rig/fleet.py "$program" 100 1000 10000
    echo '```'
    echo
    echo "Measured on $(date +%Y-%m-%d), $(nproc) cores, $(rustc --version | cut -d' ' -f1,2)."
    echo "The machine's load when it began: $(cut -d' ' -f1 /proc/loadavg)."
} > "$report"
chmod 644 "$report"
mv "$report" benches/rig/REPORT.md
echo "written: benches/rig/REPORT.md"
