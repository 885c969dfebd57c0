# Sourced by examples/quickstart.sh and tests/run.sh.
#   use_environment .venv-run .ci/lock/runtime.txt
# makes a private environment from a lock with hashes, or reuses it untouched, without the network, while
# lock, Python and place are the same. Sets ROOT and ENV_BIN. PYTHON names the interpreter to use.

ROOT=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

_new_enough() {
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1
}

_find_python() {
    local candidate
    if [ -n "${PYTHON:-}" ]; then
        _new_enough "$PYTHON" && { echo "$PYTHON"; return 0; }
        echo "PYTHON=$PYTHON isn't Python 3.11 or newer." >&2
        return 1
    fi
    for candidate in python3 python python3.13 python3.12 python3.11; do
        _new_enough "$candidate" && { echo "$candidate"; return 0; }
    done
    echo "jambset needs Python 3.11 or newer, and none was found. Install one, or name it: PYTHON=/path/to/python3.12" >&2
    return 1
}

_fingerprint() { # python, files: one hash over this Python, this place and the files
    "$1" - "$ROOT" "${@:2}" <<'PY'
import hashlib, pathlib, sys
parts = [sys.version, sys.executable, sys.argv[1], *(pathlib.Path(name).read_text("utf-8") for name in sys.argv[2:])]
print(hashlib.sha256("\0".join(parts).encode()).hexdigest())
PY
}

_is_noted() { # file, text
    [ "$(cat "$1" 2>/dev/null)" = "$2" ]
}

use_environment() {
    local env="$ROOT/$1" lock="$ROOT/$2" python locked package missing
    python=$(_find_python) || return 1
    locked=$(_fingerprint "$python" "$lock") || return 1
    package=$(_fingerprint "$python" "$lock" "$ROOT/pyproject.toml") || return 1
    ENV_BIN="$env/bin"
    if ! _is_noted "$env/locked" "$locked"; then
        echo "Setting up $1 from $2 ..." >&2
        "$python" -m venv --clear "$env" || {
            echo "This Python can't make an environment; on Debian and Ubuntu install python3-venv." >&2
            return 1
        }
        # The lock names every package; left to look for more, pip would mind each release of one asked for by its extra.
        _pip install --no-deps --require-hashes -r "$lock" || return 1
        missing=$("$ENV_BIN/python" -m pip --disable-pip-version-check check) || { echo "$missing" >&2; return 1; }
        echo "$locked" >"$env/locked"
    fi
    if ! _is_noted "$env/package" "$package"; then
        _pip install --no-deps --no-build-isolation -e "$ROOT" || return 1
        echo "$package" >"$env/package"
    fi
}

# Puts what some tests drive on PATH, where JAMBSET_NEEDS_PROGRAMS is set and it may: a browser, nginx, curl and Node.js.
# Without them those tests are skipped, or fail where that is set.
use_programs() {
    _use_browser
    _use_program nginx nginx-light
    _use_program curl curl
    _use_program node nodejs
}

_use_program() { # program, package
    if _may_install && ! PATH="$PATH:/usr/sbin" command -v "$1" >/dev/null; then
        echo "Installing $1 for the tests ..." >&2
        apt-get -qq update && apt-get -qq -y --no-install-recommends install "$2" >/dev/null
    fi
}

_may_install() {
    [ -n "${JAMBSET_NEEDS_PROGRAMS:-}" ] && [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null
}

_use_browser() {
    if [ -n "${CHROMIUM:-}" ] || command -v chromium >/dev/null || command -v chromium-browser >/dev/null; then
        return
    fi
    if _may_install; then
        echo "Installing a browser for the tests ..." >&2
        { apt-get -qq update && apt-get -qq -y --no-install-recommends install chromium fonts-dejavu-core; } >/dev/null
    else
        echo "No browser: tests/browser is skipped. Install Chromium, or name one: CHROMIUM=/path/to/chromium" >&2
    fi
}

_pip() {
    "$ENV_BIN/python" -m pip --disable-pip-version-check --quiet "$@"
}
