#!/usr/bin/env bash
# Sets up, starts the service on 127.0.0.1, sends it every sandbox request and prints the advice.
#   bash examples/quickstart.sh
# QUICKSTART_PORT (8080) is tried first; QUICKSTART_ONCE=1 stops the service at the end; QUICKSTART_BIN
# names the bin folder of an environment that has jambset already; QUICKSTART_STATE holds its pid and log.
set -euo pipefail
. "$(dirname "${BASH_SOURCE[0]}")/../.ci/env.sh"

if [ -n "${QUICKSTART_BIN:-}" ]; then
    ENV_BIN=$QUICKSTART_BIN
else
    use_environment .venv-run .ci/lock/runtime.txt
fi
STATE=${QUICKSTART_STATE:-$ROOT/.venv-run}
PID_FILE=$STATE/jambset.pid
ADDRESS_FILE=$STATE/jambset.address
LOG=$STATE/jambset.log

ready() {
    "$ENV_BIN/python" -c 'import sys, urllib.request as u; u.urlopen(sys.argv[1] + "/health/ready", timeout=2)' "$1" 2>/dev/null
}

running() {
    [ -f "$PID_FILE" ] && [ -f "$ADDRESS_FILE" ] && kill -0 "$(cat "$PID_FILE")" 2>/dev/null && ready "$(cat "$ADDRESS_FILE")"
}

free_port() {
    "$ENV_BIN/python" - "$1" <<'PY'
import socket, sys
for port in (*range(int(sys.argv[1]), int(sys.argv[1]) + 20), 0):
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            continue
        print(probe.getsockname()[1])
        break
PY
}

start() {
    local wanted=${QUICKSTART_PORT:-8080} port
    port=$(free_port "$wanted")
    [ "$port" = "$wanted" ] || echo "Port $wanted is taken, using $port."
    nohup "$ENV_BIN/python" -m jambset.main serve --host 127.0.0.1 --port "$port" >"$LOG" 2>&1 &
    echo $! >"$PID_FILE"
    echo "http://127.0.0.1:$port" >"$ADDRESS_FILE"
    for _ in $(seq 100); do
        ready "$(cat "$ADDRESS_FILE")" && return 0
        kill -0 "$(cat "$PID_FILE")" 2>/dev/null || break
        sleep 0.1
    done
    echo "The service didn't start. Its log:" >&2
    cat "$LOG" >&2
    stop
    return 1
}

stop() {
    local pid
    pid=$(cat "$PID_FILE")
    rm -f "$PID_FILE" "$ADDRESS_FILE"
    kill "$pid" 2>/dev/null || return 0
    for _ in $(seq 50); do
        kill -0 "$pid" 2>/dev/null || return 0
        sleep 0.1
    done
}

if running; then
    echo "The service started before still runs, using it."
else
    start
    [ "${QUICKSTART_ONCE:-}" != 1 ] || trap stop EXIT
fi

ADDRESS=$(cat "$ADDRESS_FILE")
"$ENV_BIN/python" "$ROOT/examples/quickstart.py" "$ADDRESS"

if [ "${QUICKSTART_ONCE:-}" != 1 ]; then
    echo
    echo "The service is at $ADDRESS, its documentation at $ADDRESS/docs."
    echo "Stop it with:  kill $(cat "$PID_FILE")"
fi
