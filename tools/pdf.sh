#!/bin/sh
# tools/build.mjs runs this during a build. It puts the reader of PDFs into a folder of its own: what draws,
# its worker, what unpacks JPEG 2000 and JBIG2, and the letters that a PDF may name without
# bringing them. Modules end in .js, which every host sends as a script.

set -eu

here=$(pwd)
from=$here/node_modules/pdfjs-dist
version=$(sed -n 's/^    "pdfjs-dist": "\(.*\)",*$/\1/p' "$here/package.json")
out=$STAGE/pdf-$version

if [ ! -f "$from/legacy/build/pdf.min.mjs" ]; then
    echo "The reader of PDFs is missing: run tools/serve or tools/check, which fetch it." >&2
    exit 1
fi
if ! grep -q "'pdf-$version'" "$here/public/papers.js"; then
    echo "public/papers.js names another version of pdfjs-dist than package.json: name pdf-$version." >&2
    exit 1
fi

mkdir -p "$out/wasm" "$out/fonts"
cp "$from/legacy/build/pdf.min.mjs" "$out/pdf.js"
cp "$from/legacy/build/pdf.worker.min.mjs" "$out/worker.js"
cp "$here/public/pdf/start.js" "$here/public/pdf/mute.js" "$out"
cp "$from/wasm/openjpeg.wasm" "$from/wasm/jbig2.wasm" "$out/wasm"
cp "$from"/standard_fonts/*.pfb "$from"/standard_fonts/*.ttf "$out/fonts"
