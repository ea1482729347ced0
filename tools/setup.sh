# Sourced by tools/serve, tools/check and tools/figures. Each need_* function finds one thing
# or installs it, says so, and leaves alone what is already there.
#
# Tools of pinned versions live in one cache folder shared by all clones, so a
# second clone builds none of them again and nothing global changes. Only a
# compiler target, Debian packages and the browser have to be system-wide.

set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
cd "$root"

geckodriver_version=0.37.1
rust_minimum=$(sed -n 's/^rust-version = "\(.*\)"/\1/p' Cargo.toml)
cache=${XDG_CACHE_HOME:-$HOME/.cache}/halfturn
mkdir -p "$cache"
tools=

say() { printf '\n==> %s\n' "$*"; }
have() { command -v "$1" >/dev/null 2>&1; }

fail() {
    printf '\n%s: %s\n' "$(basename -- "$0")" "$*" >&2
    exit 1
}

# at_least 1.88 1.95.0: is the second version no older than the first?
at_least() {
    awk -v want="$1" -v got="$2" 'BEGIN {
        split(want, w, "."); split(got, g, ".")
        for (i = 1; i <= 3; i++) if (g[i] + 0 != w[i] + 0) exit !(g[i] + 0 > w[i] + 0)
    }'
}

on_debian_as_root() { [ "$(id -u)" = 0 ] && have apt-get; }

debian_install() {
    say "Installing Debian packages: $*"
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq </dev/null &&
        apt-get install -y -qq --no-install-recommends "$@" </dev/null
}

need_rust() {
    if have cargo && at_least "$rust_minimum" "$(cargo --version | cut -d' ' -f2)"; then
        return
    fi
    on_debian_as_root && debian_install rustc-web cargo-web rustfmt-web rust-web-clippy ||
        fail "Rust $rust_minimum or newer is missing: install it with rustup (https://rustup.rs)."
    # An older compiler elsewhere on the path must not shadow the new one.
    PATH=/usr/bin:$PATH
}

has_wasm_target() {
    [ -d "$(rustc --print sysroot)/lib/rustlib/wasm32-unknown-unknown/lib" ]
}

# Debian's compiler for web browsers has no ready-made standard library for
# the target, but its source, from which cargo builds one.
has_debian_wasm() {
    [ -x /usr/bin/cargo ] && [ -x /usr/bin/rust-lld ] && [ -d /usr/lib/rustlib/src/rust/library ]
}

need_wasm() {
    wasm_rust=plain
    if has_wasm_target; then return; fi
    if have rustup; then
        say "Adding the compile target wasm32-unknown-unknown"
        rustup target add wasm32-unknown-unknown </dev/null && return
        echo "rustup could not fetch it."
    fi
    wasm_rust=debian
    if has_debian_wasm; then return; fi
    if on_debian_as_root && debian_install rustc-web cargo-web rust-web-src rust-web-llvm; then
        # rust-lld is a link that names the linker's package of this release.
        debian_install "$(readlink /usr/bin/rust-lld)" && has_debian_wasm && return
    fi
    fail "the Rust compile target is missing: run 'rustup target add wasm32-unknown-unknown'."
}

# Runs a command with the compiler that can build for the browser.
with_wasm() {
    # Views without their types: a seventh smaller, and built in less time.
    flags="${RUSTFLAGS:+$RUSTFLAGS }--cfg=erase_components"
    case $wasm_rust in
    plain) env PATH="$tools:$PATH" RUSTFLAGS="$flags" "$@" ;;
    debian)
        env PATH="$tools:/usr/bin:$PATH" RUSTFLAGS="$flags" RUSTC_BOOTSTRAP=1 \
            CARGO_UNSTABLE_BUILD_STD=std,panic_abort "$@"
        ;;
    esac
}

# cargo_tool NAME VERSION CRATE [cargo option...]: builds a tool into the cache.
cargo_tool() {
    name=$1 version=$2
    shift 2
    home=$cache/$name-$version
    tools=$home/bin${tools:+:$tools}
    [ ! -x "$home/bin/$name" ] || return 0
    say "Building $name $version (once, takes some minutes)"
    # Tools that run for seconds need no optimiser over all of their parts at once, which takes
    # longer than all the rest.
    CARGO_PROFILE_RELEASE_LTO=off CARGO_PROFILE_RELEASE_CODEGEN_UNITS=16 \
        CARGO_PROFILE_RELEASE_OPT_LEVEL=1 CARGO_PROFILE_RELEASE_DEBUG=0 \
        cargo install "$@" --version "$version" --root "$home" </dev/null ||
        fail "$name $version could not be built: crates.io must be within reach the first time."
}

# Packs a compiled program for the browser (tools/pack). Built once for each lock and source.
need_pack() {
    key=$(cat tools/pack/Cargo.lock tools/pack/Cargo.toml tools/pack/src/main.rs | cksum | tr ' ' '-')
    PACK=$cache/pack-$key/halfturn-pack
    export PACK
    [ ! -x "$PACK" ] || return 0
    say "Building what packs the program for the browser (once, takes a minute)"
    cargo build --release --locked --manifest-path tools/pack/Cargo.toml --target-dir "$cache/pack-built" </dev/null ||
        fail "tools/pack could not be built: crates.io must be within reach the first time."
    mkdir -p "$cache/pack-$key"
    # Moved into place whole, so no other run finds half of it.
    cp "$cache/pack-built/release/halfturn-pack" "$PACK.new" && mv "$PACK.new" "$PACK"
}

need_node() {
    if have node && have npm && at_least 18 "$(node --version | tr -d v)"; then return; fi
    on_debian_as_root && debian_install nodejs npm ||
        fail "Node.js 18 or newer with npm is missing: install it (https://nodejs.org)."
}

# Packages go into the cache under a name made from the lock file, so that
# clones with the same lock share them and others are not disturbed.
need_npm_packages() {
    need_node
    key=$(cat package.json package-lock.json | cksum | tr ' ' '-')
    packages=$cache/npm-$key
    if [ ! -d "$packages" ]; then
        say "Installing the npm packages of package-lock.json"
        fresh=$(mktemp -d "$cache/npm-new.XXXXXX")
        cp package.json package-lock.json "$fresh"
        (cd "$fresh" && npm ci --omit=optional --ignore-scripts --no-audit --no-fund </dev/null) ||
            fail "the npm packages could not be installed: the npm registry must be within reach the first time."
        # Moved into place whole, so no other run sees half of it.
        [ -d "$packages" ] || mv "$fresh" "$packages"
    fi
    [ -L node_modules ] || rm -rf node_modules
    ln -sfn "$packages/node_modules" node_modules
    tools=$packages/node_modules/.bin:$tools
}

need_chromium() {
    for candidate in "${CHROMIUM:-}" chromium chromium-browser google-chrome \
        "/Applications/Chromium.app/Contents/MacOS/Chromium" \
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"; do
        if [ -n "$candidate" ] && have "$candidate"; then
            CHROMIUM=$(command -v "$candidate")
            export CHROMIUM
            return
        fi
    done
    on_debian_as_root && debian_install chromium ||
        fail "Chromium is missing: install it, or name one in the variable CHROMIUM."
    export CHROMIUM=/usr/bin/chromium
}

# The drivers through which tests/browser/engines.test.mjs works each browser.
need_chromedriver() {
    if have chromedriver; then return; fi
    on_debian_as_root && debian_install chromium-driver ||
        fail "chromedriver is missing: install the one of your Chromium's version."
}

need_firefox() {
    for candidate in "${FIREFOX:-}" firefox-esr firefox \
        /Applications/Firefox.app/Contents/MacOS/firefox; do
        if [ -n "$candidate" ] && have "$candidate"; then
            FIREFOX=$(command -v "$candidate")
            break
        fi
    done
    if [ -z "${FIREFOX:-}" ]; then
        on_debian_as_root && debian_install firefox-esr ||
            fail "Firefox is missing: install it, or name one in the variable FIREFOX."
        FIREFOX=/usr/bin/firefox-esr
    fi
    export FIREFOX
    # Without something to play on, this browser begins no sound at all, a kept one included.
    have pulseaudio || ! on_debian_as_root || debian_install pulseaudio ||
        say "No sound output here, so the tests of sound in Firefox are left out (Debian: pulseaudio)"
    cargo_tool geckodriver "$geckodriver_version" geckodriver --locked
    GECKODRIVER=$home/bin/geckodriver
    export GECKODRIVER
}

# WebKit as GTK ships it: its driver, a small browser, and a screen for it to show on. Where
# there is none, such as on a Mac, its tests are left out and say so.
need_webkit() {
    for candidate in /usr/lib/*/webkit2gtk-4.1/MiniBrowser none; do
        if [ "$candidate" = none ]; then
            on_debian_as_root && debian_install webkit2gtk-driver xvfb xauth || break
            candidate=$(echo /usr/lib/*/webkit2gtk-4.1/MiniBrowser)
        fi
        if [ -x "$candidate" ] && have WebKitWebDriver && have xvfb-run; then
            export MINIBROWSER="$candidate"
            return
        fi
    done
    say "No WebKitGTK here, so its tests are left out (Debian: webkit2gtk-driver, xvfb, xauth)"
}
