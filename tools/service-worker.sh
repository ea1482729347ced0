#!/bin/sh
# tools/build.mjs runs this when everything else of a build is in place. It writes the service worker: one
# function, from public/sw.js, that is handed the list of all files with their digests. Any change
# in any file changes the list, hence the version, which names the script; worker.json says which
# script is the newest, and its digest. sw.js is the same script, for devices with a version that
# knows it by that name alone.

set -eu

here=$(pwd)
cd "$STAGE"
# Through environments and locales the order, hence the version, is the same.
export LC_ALL=C

if command -v sha256sum >/dev/null 2>&1; then
    sha256() { sha256sum "$@"; }
elif command -v shasum >/dev/null 2>&1; then
    sha256() { shasum -a 256 "$@"; }
else
    echo "sha256sum or shasum is missing: install one of them." >&2
    exit 1
fi

if find . -type f | grep -q '[^A-Za-z0-9._/-]'; then
    echo "A file name in the build needs escaping in sw.js; rename it:" >&2
    find . -type f | grep '[^A-Za-z0-9._/-]' >&2
    exit 1
fi

rm -f sw.js sw-*.js worker.json
# The page is listed as the folder it answers for: hosts that redirect from
# index.html to it would hand out a redirection, which can't be kept as a page.
list=$(find . -type f | sort | while read -r file; do
    digest=$(sha256 "$file" | cut -c1-64)
    [ "$file" != ./index.html ] || file=./
    printf "  ['%s', '%s'],\n" "$file" "$digest"
done)

source=$here/public/sw.js
version=$({ echo "$list"; cat "$source"; } | sha256 | cut -c1-16)
worker=sw-$version.js
{
    printf '((VERSION, FILES) => {\n'
    cat "$source"
    printf "})('%s', [\n%s\n]);\n" "$version" "$list"
} >"$worker"
cp "$worker" sw.js
printf '{"worker":"./%s","sha256":"%s"}\n' "$worker" "$(sha256 "$worker" | cut -c1-64)" >worker.json
echo "Service worker: version $version, $(echo "$list" | wc -l | tr -d ' ') files"
