#!/usr/bin/env bash
# Times the program as people start it, and writes benches/REPORT.md.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

cargo build --locked --release -p becket-cli >&2
report=$(mktemp benches/REPORT.XXXXXX.tmp)
trap 'rm -f "$report"' EXIT
{
    cat <<'HEAD'
# How long the whole way takes

Written by `benches/whole_way/run.sh`: the release program is started, its
answer read, its end waited for. The goals are for two cores; medians count,
since machines are noisy. `lines_of_boats` should grow tenfold a step.

| bench | what is done | goal |
|---|---|---|
| `help` | `becket --help` | 20 ms |
| `demo_lines` | `becket lines` on the demo order, 27 lines | 50 ms |
| `demo_splice` | `becket splice`, one long-bury eye | 30 ms |
| `demo_cut` | `becket cut` on the demo order, 41 pieces | |
| `thirty_cards` | `becket sheets`, 30 pieces | 1.5 s |
| `lines_of_boats` | `becket lines`, the demo's lines 5, 50 and 500 times | linear |
| peak memory | of 30 cards | 150 MB |

HEAD
    echo '```text'
    cargo bench --locked -q -p benches --bench whole_way | sed 's/[[:space:]]*$//'
    echo '```'
    echo
    echo "Measured on $(date +%Y-%m-%d), $(nproc) cores, $(rustc --version | cut -d' ' -f1,2)."
    echo "The machine's load when it began: $(cut -d' ' -f1 /proc/loadavg)."
} > "$report"
chmod 644 "$report"
mv "$report" benches/REPORT.md
echo "written: benches/REPORT.md"
