#!/usr/bin/env bash
# The two pictures of README.md, made from the demo boat by the program that
# ./run builds: a bench card (PNG) and the line table as a terminal shows it
# (SVG). Needs pdftoppm, which comes with pdftotext. Call it after a change of
# the card or the table: scripts/pictures.bash
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

readonly BECKET="${BECKET:-${CARGO_TARGET_DIR:-target}/quick/becket}"
readonly PICTURES=docs/pictures
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
mkdir -p "$PICTURES"

"$BECKET" sheets examples/sloop/order.toml --out "$folder" > /dev/null || [[ $? -eq 1 ]]
card=$(find "$folder/cards" -name '*lifeline-lashing.pdf' | sort | head -n 1)
pdftoppm -r 110 -f 1 -l 1 -png -singlefile "$card" "$PICTURES/card"

# Text as SVG: one line of type for each line, spaces kept.
"$BECKET" lines examples/sloop/order.toml 2> /dev/null > "$folder/lines.txt" || [[ $? -eq 1 ]]
{
    echo '$ becket lines examples/sloop/order.toml'
    cat "$folder/lines.txt"
} | head -n 33 | awk '
    { gsub(/&/, "\\&amp;"); gsub(/</, "\\&lt;"); gsub(/>/, "\\&gt;"); line[NR] = $0 }
    END {
        high = NR * 18 + 28
        printf "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"760\" height=\"%d\" viewBox=\"0 0 760 %d\" role=\"img\" aria-label=\"the lines of the demo boat in a terminal\">\n", high, high
        printf "<rect width=\"760\" height=\"%d\" rx=\"8\" fill=\"#12191D\"/>\n", high
        print "<g font-family=\"Noto Sans Mono, DejaVu Sans Mono, monospace\" font-size=\"14\" fill=\"#FBFAF6\" xml:space=\"preserve\">"
        for (i = 1; i <= NR; i++) printf "<text x=\"18\" y=\"%d\">%s</text>\n", 16 + i * 18, line[i]
        print "</g></svg>"
    }' > "$PICTURES/terminal.svg"
