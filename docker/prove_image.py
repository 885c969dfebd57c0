"""Carries out docker/Dockerfile step by step without Docker, and runs what comes of it as a container would.

    PYTHONPATH=service python -m docker.prove_image

from the root of the repository, as root on Linux with bubblewrap, merged /usr and a package index; the Python that runs
it stands in for the base image. Every RUN line is carried out as it stands in a sandbox of its own, every COPY from
this repository. Then the ENTRYPOINT runs as the image's USER with no capability, no new privileges and no writable file
anywhere, and the HEALTHCHECK and calls are sent to it. Prints figures; exits 1 where one of the claims fails.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

from docker.dockerfile import Instruction, Stage, health_command, stages
from docker.processes import free_port, wait_until_ready
from tests.houses import house

from jambset.http.addresses import ADVICE, HOUSE
from jambset.http.houses import AT_ONCE

ROOT = Path(__file__).parents[1]
ENVIRONMENT = "/opt/jambset"
SCENARIOS = ROOT / "examples" / "sandbox"


class Claim(Exception):
    """Something that docker/README.md says of the image doesn't hold."""


def claim(holds: object, what: str) -> None:
    """Prints what was found to hold. Raises Claim."""
    if not holds:
        raise Claim(what)
    say(f"holds: {what}")


def say(text: str) -> None:
    """One line of the report, at once."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


# --- sandboxes


class Sandbox:
    """This machine's system with another /usr/local and /opt, as the base image stands on its own system."""

    def __init__(self, folder: Path) -> None:
        self.local = folder / "local"
        self.opt = folder / "opt"
        self.opt.mkdir()

    def command(self, words: Sequence[str], env: Mapping[str, str], *, built: bool = False) -> list[str]:
        """The words as run inside; of what is built nothing can be written."""
        bind, scratch = ("--ro-bind", ()) if built else ("--bind", ("--tmpfs", "/tmp"))  # noqa: S108
        system = [part for name in ("bin", "sbin", "lib", "lib64") for part in ("--symlink", f"usr/{name}", f"/{name}")]
        return [
            *("bwrap", "--die-with-parent", "--unshare-pid", "--unshare-ipc", "--clearenv"),
            *("--ro-bind", "/usr", "/usr", *system, "--ro-bind", "/etc", "/etc", "--proc", "/proc", "--dev", "/dev"),
            *(bind, str(self.local), "/usr/local", bind, str(self.opt), "/opt", *scratch),
            *(part for name, value in env.items() for part in ("--setenv", name, value)),
            *(self._as_user(words) if built else words),
        ]

    @staticmethod
    def _as_user(words: Sequence[str]) -> list[str]:
        """As the image's user: bubblewrap keeps three capabilities to become it, all gone before it starts."""
        user, _, group = stages()[-1].one("USER").text.partition(":")
        drop = ["--clear-groups", "--no-new-privs", "--bounding-set=-all", "--inh-caps=-all"]
        become = ["setpriv", f"--reuid={user}", f"--regid={group}", *drop, "--"]
        caps = [part for name in ("SETUID", "SETGID", "SETPCAP") for part in ("--cap-add", f"CAP_{name}")]
        return [*caps, "--remount-ro", "/", "--remount-ro", "/dev", *become, *words]


def base_env() -> dict[str, str]:
    """The environment of the base image; what this machine's pip needs goes with it."""
    pip = {name: value for name, value in os.environ.items() if name.startswith("PIP_") or name.endswith("_CERT_FILE")}
    # The stand-in's library isn't in this system's cache of libraries, as it is in the base image's.
    return {**pip, "PATH": "/usr/local/bin:/usr/bin:/bin", "LD_LIBRARY_PATH": "/usr/local/lib"}


def lay_base(sandbox: Sandbox) -> None:
    """The Python that runs this, without what was installed into it, and an installer as the base image has one."""
    prefix, library = Path(sys.base_prefix), f"lib/python{sys.version_info.major}.{sys.version_info.minor}"
    skip = shutil.ignore_patterns("site-packages", "__pycache__", "test", "*.a")
    shutil.copytree(prefix / library, sandbox.local / library, ignore=skip, symlinks=True)
    for shared in prefix.glob("lib/libpython*"):
        shutil.copy(shared, sandbox.local / "lib", follow_symlinks=False)
    (sandbox.local / "bin").mkdir()
    python = f"python{sys.version_info.major}.{sys.version_info.minor}"
    shutil.copy(prefix / "bin" / python, sandbox.local / "bin" / python)
    for name in ("python", "python3"):
        (sandbox.local / "bin" / name).symlink_to(python)
    run(sandbox.command(["python", "-m", "ensurepip", "--default-pip"], base_env()))


def run(command: Sequence[str]) -> str:
    """What a command printed. Raises Claim with all it said where it failed."""
    done = subprocess.run([*command], capture_output=True, text=True, check=False)  # noqa: S603
    if done.returncode:
        raise Claim(f"{command[-1]}\n{done.stdout}{done.stderr}")
    return done.stdout


# --- building


def build(stage: Stage, sandbox: Sandbox) -> dict[str, str]:
    """Carries out the ENV, RUN and COPY lines of a stage, and gives the environment it ends with.

    Others are looked up where they matter; a COPY from another stage finds its files in place.
    """
    folder = stage.one("WORKDIR").text if stage.all("WORKDIR") else "/"
    env = base_env()
    for each in stage.instructions:
        if each.name == "ENV":
            env |= {name: value.replace("$PATH", env["PATH"]) for name, value in each.pairs.items()}
        elif each.name == "RUN":
            started = time.perf_counter()
            run(sandbox.command(["sh", "-euc", f"cd {folder} && {each.text}"], env))
            say(f"RUN  {time.perf_counter() - started:5.1f} s  {each.text[:88]} ...")
        elif each.name == "COPY" and not each.flags:
            copy(each, sandbox.opt / Path(folder).relative_to("/opt"))
    return env


def copy(each: Instruction, folder: Path) -> None:
    """A COPY from this repository."""
    *sources, target = each.words
    for source in sources:
        place = folder / target
        if (ROOT / source).is_dir():
            shutil.copytree(ROOT / source, place, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            place.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / source, place)


NEEDED = """
import json, re
from importlib.metadata import distributions, requires

def plain(name): return re.sub(r"[-_.]+", "-", name).lower()

def closure(name, seen):
    if plain(name) not in seen:
        seen.add(plain(name))
        for line in requires(name) or ():
            head, _, marker = line.partition(";")
            wanted = re.match(r"[\\w.-]+", head)[0]
            if "extra" not in marker and plain(wanted) in installed: closure(wanted, seen)
    return seen

installed = {plain(each.metadata["Name"]) for each in distributions()}
print(json.dumps(sorted(installed ^ closure("jambset", set()))))
"""


def check_environment(sandbox: Sandbox, env: Mapping[str, str]) -> None:
    """The environment holds what the service needs and nothing to install or build with."""
    extra = json.loads(run(sandbox.command([f"{ENVIRONMENT}/bin/python", "-c", NEEDED], env, built=True)))
    claim(extra == [], "the environment holds jambset and what it requires, and nothing else")
    tool = "import importlib.util as u, sys; sys.exit(any(map(u.find_spec, ('pip', 'setuptools', 'ensurepip'))))"
    for python in (f"{ENVIRONMENT}/bin/python", "/usr/local/bin/python"):
        run(sandbox.command([python, "-c", tool], env, built=True))
    claim(True, "no pip, setuptools or ensurepip in the environment or in the base")
    sources = [path for path in sandbox.opt.glob("jambset/lib/**/*.py") if not list(cached(path))]
    claim(sources == [], "every module is compiled")
    size = sum(path.stat().st_size for path in (sandbox.opt / "jambset").rglob("*") if not path.is_symlink())
    say(f"environment: {size / 1e6:.0f} MB, the image's layer above its base")


def cached(path: Path) -> Iterator[Path]:
    """The compiled forms of a module."""
    return (path.parent / "__pycache__").glob(f"{path.stem}.*.pyc")


# --- running


@contextmanager
def served(sandbox: Sandbox, stage: Stage, env: Mapping[str, str]) -> Iterator[subprocess.Popen[bytes]]:
    """The image's process. Stopped at the end as a container is."""
    words = [*stage.one("ENTRYPOINT").words, *stage.one("CMD").words]
    with subprocess.Popen(sandbox.command(words, env, built=True), stdout=subprocess.PIPE) as process:  # noqa: S603
        try:
            yield process
        finally:
            process.kill()


def inner(process: subprocess.Popen[bytes]) -> int:
    """The id of the service itself, below bubblewrap's own processes."""
    pid = process.pid
    while children := Path(f"/proc/{pid}/task/{pid}/children").read_text("utf-8").split():
        pid = int(children[0])
    return pid


def check_running(sandbox: Sandbox, stage: Stage, env: Mapping[str, str]) -> None:
    """The service runs and answers, as nobody in particular and with nothing to write to."""
    key, entry = new_key(sandbox, env)
    env = {**env, "JAMBSET_KEYS": entry}
    port = int(env["JAMBSET_PORT"])
    started = time.perf_counter()
    with served(sandbox, stage, env) as process:
        wait_until_ready(port)
        say(f"ready after {time.perf_counter() - started:.2f} s")
        pid = inner(process)
        status = Path(f"/proc/{pid}/status").read_text("utf-8")
        check_privileges(status, stage)
        check_nothing_writable(sandbox, env)
        run(sandbox.command(health_command(stage), env, built=True))
        claim(True, "the health check passes")
        check_answers(port, key)
        say(f"resident: {resident(pid, 'VmRSS')} MB after calls, {resident(pid, 'VmHWM')} MB at most")
        os.kill(pid, signal.SIGTERM)
        code = process.wait(10)
        claim(code == 0, f"SIGTERM ends it in order (code {code})")
    failed = subprocess.run(sandbox.command(health_command(stage), env, built=True), capture_output=True, check=False)  # noqa: S603
    claim(failed.returncode, "without the service the health check fails")


def new_key(sandbox: Sandbox, env: Mapping[str, str]) -> tuple[str, str]:
    """A caller's key and its entry, as the image's own command makes them."""
    told, entry = run(sandbox.command(["sh", "-c", "jambset key prove 2>&1"], env, built=True)).splitlines()
    return told.partition(": ")[2], entry


def check_privileges(status: str, stage: Stage) -> None:
    """Whose process it is and what it may, as the kernel says."""
    user, _, group = stage.one("USER").text.partition(":")
    found = {name: re.findall(r"\S+", rest) for name, _, rest in (line.partition(":") for line in status.splitlines())}
    claim(set(found["Uid"]) == {user} and set(found["Gid"]) == {group}, f"it runs as {user}:{group}")
    none = {"0" * 16}
    kept = {
        name: found[name] for name in ("CapEff", "CapPrm", "CapInh", "CapBnd", "CapAmb") if set(found[name]) != none
    }
    claim(not kept and found["NoNewPrivs"] == ["1"], "no capability in any set, and no new privileges")


WRITABLE = """
import os, tempfile
def tries():
    for top in ("/", "/opt/jambset", "/usr/local", "/tmp", "/dev", "/dev/shm", "/var/tmp", os.getcwd()):
        try:
            with open(os.path.join(top, "probe"), "x"): yield top
        except OSError: pass
print([*tries()])
"""


def check_nothing_writable(sandbox: Sandbox, env: Mapping[str, str]) -> None:
    """No folder takes a file, a temporary one least of all."""
    found = run(sandbox.command([f"{ENVIRONMENT}/bin/python", "-c", WRITABLE], env, built=True)).strip()
    claim(found == "[]", f"no folder can be written: {found}")


def check_answers(port: int, key: str) -> None:
    """Worked examples are answered as they are kept, and the largest houses as many at once as are worked on."""
    kept = [json.loads(path.read_bytes()) for path in sorted(SCENARIOS.glob("*.json"))]
    for each in kept:
        answer = json.loads(post(port, key, each.get("call", ADVICE), each["request"]))
        if answer != each["response"]:
            raise Claim(f"another answer than kept to {each.get('id')}")
    claim(kept, f"all {len(kept)} worked examples are answered as they are kept")
    started = time.perf_counter()
    with ThreadPoolExecutor(AT_ONCE) as pool:
        sheets = [
            *pool.map(lambda seed: post(port, key, HOUSE, house(500, seed=seed), "application/pdf"), range(AT_ONCE))
        ]
    taken = time.perf_counter() - started
    claim(
        all(each[:4] == b"%PDF" for each in sheets), f"{AT_ONCE} houses of 500 openings at once as PDF: {taken:.1f} s"
    )


def post(port: int, key: str, path: str, body: object, accept: str = "application/json") -> bytes:
    """The answer to a call."""
    headers = {"Content-Type": "application/json", "Accept": accept, "Authorization": f"Bearer {key}"}
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}{path}", json.dumps(body).encode(), headers, method="POST"
    )
    with urllib.request.urlopen(request, timeout=60) as response:  # noqa: S310
        return bytes(response.read())


def resident(pid: int, field: str) -> int:
    """Memory of a process [MB]. field: VmRSS now, VmHWM at most."""
    status = Path(f"/proc/{pid}/status").read_text("utf-8")
    found = re.search(rf"^{field}:\s+(\d+) kB", status, re.MULTILINE)
    return int(found[1]) // 1000 if found else 0


def main() -> None:
    """Builds, checks, runs, checks."""
    builder, final = stages()
    with tempfile.TemporaryDirectory() as folder:
        sandbox = Sandbox(Path(folder))
        lay_base(sandbox)
        build(builder, sandbox)
        shutil.rmtree(sandbox.opt / "build")
        env = {**build(final, sandbox), "JAMBSET_PORT": str(free_port())}
        check_environment(sandbox, env)
        check_running(sandbox, final, env)


if __name__ == "__main__":
    try:
        main()
    except (Claim, TimeoutError) as fault:
        sys.exit(f"doesn't hold: {fault}")
