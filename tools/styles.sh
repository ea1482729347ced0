#!/bin/sh
# Trunk runs this before a build. It joins the style sheets of the app into one, in the order in
# which they follow each other: each file that a page asks for costs it some time of its start.
# crash.css stays by itself, for it speaks where nothing else could be loaded.

set -eu

out=target/joined
mkdir -p "$out"
for name in main/base main/controls main/frame main/lists main/step main/reading main/keypad \
    main/waits main/socket main/parts main/sums main/lookup main/narrow main/trace \
    sheet author pictures papers find audio report print; do
    cat "style/$name.css"
    echo
done >"$out/new"
# One that is the same keeps its time.
if cmp -s "$out/new" "$out/halfturn.css"; then
    rm "$out/new"
else
    mv "$out/new" "$out/halfturn.css"
fi
