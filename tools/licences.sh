#!/bin/sh
# tools/build.mjs runs this during a build. It writes licences.html: every crate that goes into the app,
# under which licence it is, and the texts that their sources bring, each once. The page stands
# for itself, so that the app starts no slower for it.

set -eu

here=$(pwd)
out=$STAGE/licences.html
sources=${CARGO_HOME:-$HOME/.cargo}/registry/src
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export LC_ALL=C

# What is only run while building goes into nothing, and of what is our own the notices are in
# the source.
cargo tree --locked --target wasm32-unknown-unknown --edges normal,no-proc-macro \
    --prefix none --format '{p}|{l}' |
    sed 's/ (\*)$//' | grep -v '^halfturn ' | sort -u >"$work/crates"
printf '%s\n' 'Libre Franklin (the letters)|OFL-1.1' \
    'Inter (the signs)|OFL-1.1' 'std (of Rust)|MIT OR Apache-2.0' \
    "zxing-wasm v$(sed -n 's/^ *"version": "\(.*\)",$/\1/p' node_modules/zxing-wasm/package.json) (reads codes)|MIT" \
    'zxing-cpp (within zxing-wasm)|Apache-2.0' \
    'pdf.js (the reader of PDFs)|Apache-2.0' 'OpenJPEG (in it)|BSD-2-Clause' \
    'PDFium (JBIG2 and the Foxit letters in it)|BSD-3-Clause AND Apache-2.0' \
    'Liberation Sans (letters in it)|OFL-1.1' >>"$work/crates"

# keep NAME FILE...: notes each text under what it says, however its lines are broken.
keep() {
    name=$1
    shift
    for file in "$@"; do
        [ -f "$file" ] || continue
        key=$(tr -s '[:space:]' ' ' <"$file" | cksum | tr ' ' '-')
        [ -f "$work/text-$key" ] || tr -d '\r' <"$file" >"$work/text-$key"
        echo "$name" >>"$work/users-$key"
    done
}

while IFS='|' read -r crate licence; do
    folder=$(echo "$crate" | sed 's/ v/-/; s/ (.*//')
    for root in "$sources"/*/"$folder"; do
        keep "$crate" "$root"/[Ll][Ii][Cc][Ee][Nn][CcSs][Ee]* "$root"/COPYING* "$root"/COPYRIGHT* \
            "$root"/NOTICE* "$root"/UNLICENSE*
    done
done <"$work/crates"
for font in 'Libre Franklin (the letters)' 'Inter (the signs)'; do
    keep "$font" "$here/public/fonts/LICENSE.txt"
done
keep 'zxing-wasm (reads codes)' "$here/node_modules/zxing-wasm/LICENSE"
keep 'zxing-cpp (within zxing-wasm)' "$here/LICENSE-APACHE"
pdf=$here/node_modules/pdfjs-dist
keep 'pdf.js (the reader of PDFs)' "$pdf/LICENSE" "$pdf"/wasm/LICENSE_PDFJS_JBIG2 \
    "$pdf"/wasm/LICENSE_PDFJS_OPENJPEG
keep 'OpenJPEG (in it)' "$pdf/wasm/LICENSE_OPENJPEG"
keep 'PDFium (JBIG2 and the Foxit letters in it)' "$pdf/wasm/LICENSE_JBIG2" \
    "$pdf/standard_fonts/LICENSE_FOXIT"
keep 'Liberation Sans (letters in it)' "$pdf/standard_fonts/LICENSE_LIBERATION"
keep 'std (of Rust) and those whose source brings no text of its own' \
    "$here/LICENSE-MIT" "$here/LICENSE-APACHE"

escape() { sed 's/&/\&amp;/g; s/</\&lt;/g'; }
{
    cat <<'END'
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Licences · Halfturn</title>
<style>
body { max-width: 46rem; margin: 0 auto; padding: 1rem; font: 1.1rem/1.5 system-ui, sans-serif; }
pre { white-space: pre-wrap; overflow-wrap: anywhere; font-size: 0.9rem; }
a { display: inline-block; padding: 0.7rem 0; }
ul { padding-left: 1.2rem; }
</style>
</head>
<body>
<p><a href="./#/data">Back to the app</a></p>
<h1>Licences</h1>
<p>Halfturn is MIT OR Apache-2.0. It is made with the work of others, whose licences ask that their notices go along. These are all of them, and below the texts that they bring, each once.</p>
<ul>
END
    escape <"$work/crates" | sed 's/^\(.*\)|\(.*\)$/<li>\1: \2<\/li>/'
    echo '</ul>'
    for users in "$work"/users-*; do
        printf '<h2>%s</h2>\n<pre>' "$(sort -u "$users" | escape | sed 's/ v\([0-9]\)/ \1/' | paste -sd ',' - | sed 's/,/, /g')"
        escape <"$work/text-${users##*/users-}"
        echo '</pre>'
    done
    echo '</body></html>'
} >"$out"
echo "Licences: $(wc -l <"$work/crates" | tr -d ' ') works, $(find "$work" -name 'text-*' | wc -l | tr -d ' ') texts"
