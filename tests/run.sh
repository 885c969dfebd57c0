#!/usr/bin/env bash
# Everything that is checked, in one command: style, types, imports, tests, coverage.
#   bash tests/run.sh [arguments for pytest]     with arguments only the tests are run
set -euo pipefail
. "$(dirname "${BASH_SOURCE[0]}")/../.ci/env.sh"
use_environment .venv-test .ci/lock/dev.txt
use_programs
cd "$ROOT"
unset PYTHONDONTWRITEBYTECODE # two workers and all the processes that tests start: what one has compiled, the others load

step() {
    printf '\n== %s\n' "$*"
    "$ENV_BIN/$1" "${@:2}"
}

if [ $# -gt 0 ]; then
    step pytest "$@"
    exit
fi

step ruff check
step ruff format --check
step mypy
step lint-imports --no-logo
# four workers on two cores: tests that drive a server or a browser wait for it, and one waits for the fuzzing
step pytest -n 4 --dist worksteal --cov --cov-report=
step coverage report --fail-under=100
