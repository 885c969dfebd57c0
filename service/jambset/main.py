"""Composition root and command line: the only module that reads environment, arguments and folders.

Everything heavy is imported where it is used, so that each command loads no more than it needs.
"""

from __future__ import annotations

import gc
import json
import os
import shutil
import signal
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

import click

from jambset.errors import CatalogueError
from jambset.http.addresses import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK
from jambset.http.sandbox import Scenario, ScenarioError, read_scenario
from jambset.http.settings import PREFIX, Settings, SettingsError
from jambset.model.version import VERSION

if TYPE_CHECKING:
    import socket

    from litestar import Litestar

    from jambset.rules.schema import Catalogue

PACKAGE = Path(__file__).parent
SANDBOXES = (PACKAGE / "sandbox", PACKAGE.parents[1] / "examples" / "sandbox")
"""Where scenarios stand: inside the wheel, else in the repository."""
GC_THRESHOLDS = (20_000, 20, 20)
"""Allocations before a collection, and generations between the older ones; an answer leaves no cycles to speak of."""
SWITCH_SECONDS = 0.0005
"""How long the thread of a house or drawing keeps the interpreter while a call on one opening waits for it."""
APP = "jambset.main:create"
"""The application, as uvicorn imports it."""
KEEP_ALIVE_SECONDS = 65
"""How long a connection may rest between requests: longer than the minute after which proxies commonly let one go."""
STDERR = 2
"""Descriptor of standard error."""
SPARE_FILES = 64
"""Files that a process opens beside its connections, and some to spare."""
CUT_SECONDS = 1
"""How much longer than its connection a call may go on when the service stops [s]."""
WIDTH_OF_A_FILE = 140
"""Columns of a table that isn't printed to a terminal."""


# --- composition


def create() -> Litestar:
    """The application of one server process, made from environment and files; uvicorn's factory.

    Raises SettingsError and CatalogueError: a service that can't trust its rules doesn't start.
    """
    from jambset.http.app import create_app
    from jambset.http.sink import never_wait
    from jambset.http.workers import stop_with_parent

    never_wait(STDERR)
    stop_with_parent()
    settings = settings_from_environment()
    app = create_app(catalogue=catalogue_of(settings), settings=settings, sandbox=read_sandbox(sandbox_folder()))
    calm_collector()
    sys.setswitchinterval(SWITCH_SECONDS)
    return app


def calm_collector() -> None:
    """Keep the garbage collector's pauses out of the slowest answers: what was built at the start is never garbage."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(*GC_THRESHOLDS)


def settings_from_environment() -> Settings:
    """Settings from the environment of this process. Raises SettingsError."""
    return Settings.from_env(os.environ)


def catalogue_of(settings: Settings) -> Catalogue:
    """The rule catalogue the settings name. Raises SettingsError where it can't be used, CatalogueError for our own."""
    from jambset.rules.load import load_catalogue

    if not settings.rules:
        return load_catalogue()
    if not Path(settings.rules).is_dir():
        raise SettingsError(f"{PREFIX}RULES: there is no folder {settings.rules}")
    try:
        return load_catalogue(Path(settings.rules))
    except CatalogueError as fault:
        raise SettingsError(f"{PREFIX}RULES: {fault}") from None


def sandbox_folder() -> Path:
    """The folder of the sandbox scenarios. Raises FileNotFoundError when the installation lacks it."""
    for folder in SANDBOXES:
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"no sandbox scenarios in {' or '.join(map(str, SANDBOXES))}")


def read_sandbox(folder: Path) -> tuple[Scenario, ...]:
    """All scenarios of a folder, in the order of their file names."""
    return tuple(read_scenario(path.read_bytes(), name=path.name) for path in sorted(folder.glob("*.json")))


def contract_of(settings: Settings) -> bytes:
    """The OpenAPI document as it is committed and served."""
    from jambset.http.openapi import build_document, encode_document

    return encode_document(build_document(catalogue_of(settings), read_sandbox(sandbox_folder()), VERSION))


# --- command line


class Commands(click.Group):
    """Commands that tell faults of settings and files in a sentence, without a trace."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command."""
        try:
            return super().invoke(ctx)
        except (SettingsError, CatalogueError, ScenarioError) as fault:
            raise click.ClickException(str(fault)) from None


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, prog_name="jambset")
def cli() -> None:
    """Advice for setting interior door jambs before the floors are laid."""


LANGUAGE = click.option(
    "--language", type=click.Choice(["en", "es"]), default="en", help="Language of its prose.  [en]"
)


@cli.command()
@click.option("--host", help="Address to listen on.  [JAMBSET_HOST, 127.0.0.1]")
@click.option("--port", type=click.IntRange(0, 65_535), help="Port to listen on.  [JAMBSET_PORT, 8080]")
@click.option("--workers", type=click.IntRange(1, 64), help="Server processes.  [JAMBSET_WORKERS, 1]")
def serve(host: str | None, port: int | None, workers: int | None) -> None:
    """Start the HTTP service."""
    from jambset.http.sink import fill_standard

    fill_standard()
    given = {"HOST": host, "PORT": port, "WORKERS": workers}
    os.environ.update({PREFIX + name: str(value) for name, value in given.items() if value is not None})
    settings = settings_from_environment()  # and each worker reads the same again in create()
    if settings.needs_key:
        from jambset.http.keys import require_keys

        require_keys(settings)
    if settings.workers > 1:  # one that can't start ends by itself; several would be started again and again
        catalogue_of(settings)
        read_sandbox(sandbox_folder())
    run(settings)


def run(settings: Settings) -> None:
    """Serve until a signal comes; with a port of their own for the metrics, on two sockets.

    Once stopped, the server raises SIGTERM again; the process then exits with 0, and doesn't wait for a thread that
    still works for a caller who was cut off.
    """
    import uvicorn

    from jambset.http.workers import Workers

    before = signal.signal(signal.SIGTERM, lambda *_: os._exit(0))
    options = server_options(settings)
    with suppress(KeyboardInterrupt), telling_where(settings):
        if settings.workers > 1:
            Workers(uvicorn.Config(APP, **options), sockets=bound(settings, options)).run()
        elif settings.metrics_port:
            uvicorn.Server(uvicorn.Config(APP, **options)).run(sockets=bound(settings, options))
        else:
            uvicorn.run(APP, **options)
    signal.signal(signal.SIGTERM, before)


@contextmanager
def telling_where(settings: Settings) -> Iterator[None]:
    """Name the settings where the server can't listen; it reports the system's words alone."""
    try:
        yield
    except SystemExit:
        asked = {"HOST": settings.host, "PORT": settings.port, "METRICS_PORT": settings.metrics_port}
        told = ", ".join(f"{PREFIX}{name} is {value}" for name, value in asked.items() if value)
        click.echo(f"The service didn't start: {told}.", err=True)
        raise


def bound(settings: Settings, options: dict[str, Any]) -> list[socket.socket]:
    """The sockets to listen on, that of the metrics last."""
    import uvicorn

    ports = [settings.port, *([settings.metrics_port] if settings.metrics_port else [])]
    return [uvicorn.Config(APP, **{**options, "port": port}).bind_socket() for port in ports]


def connections_for(wanted: int) -> int:
    """How many of the wanted connections a process may hold; raises its limit of open files where it must."""
    if sys.platform == "win32":
        return wanted
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    if soft != resource.RLIM_INFINITY and soft < wanted + SPARE_FILES:
        soft = wanted + SPARE_FILES if hard == resource.RLIM_INFINITY else min(wanted + SPARE_FILES, hard)
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
    return wanted if soft == resource.RLIM_INFINITY else max(min(wanted, soft - SPARE_FILES), 1)


def server_options(settings: Settings) -> dict[str, Any]:
    """Uvicorn's options."""
    from jambset.http.connection import Bounds, Connection
    from jambset.http.crowd import Crowd

    bounds = Bounds(
        settings.max_header_bytes, settings.max_header_fields, settings.body_seconds, settings.drain_seconds
    )
    return {
        "factory": True,
        "host": settings.host,
        "port": settings.port,
        "workers": settings.workers,
        "loop": "asyncio" if sys.platform == "win32" else "uvloop",
        "http": partial(Connection, bounds=bounds, crowd=Crowd(connections_for(settings.max_connections))),
        "ws": "none",
        "timeout_keep_alive": KEEP_ALIVE_SECONDS,
        "timeout_graceful_shutdown": settings.drain_seconds + CUT_SECONDS,
        "access_log": False,
        "server_header": False,
        "log_level": "warning",
    }


@cli.command()
@click.argument("name")
def key(name: str) -> None:
    """Make a key for the caller NAME.

    It is shown on standard error, this once. Its line for JAMBSET_KEYS_FILE goes to standard output: >> appends it.
    """
    from jambset.http.keys import NAME, entry_of, new_key

    if NAME.fullmatch(name) is None:
        raise click.BadParameter("must be 1 to 64 letters, digits, dots, hyphens and underscores.", param_hint="NAME")
    made = new_key()
    click.echo(f"key for the caller, shown this once: {made}", err=True)
    click.echo(entry_of(name, made))


@cli.command()
@click.argument("file", type=click.File("rb"))
@click.option("--table", is_flag=True, help="Print a table, the summary and its rules instead of JSON.")
@click.option("--drawing", is_flag=True, help="Print its section and elevation as SVG.")
@click.option("--sheet", is_flag=True, help="Print its sheet as HTML.")
@click.option("--pdf", is_flag=True, help="Print its sheet as PDF.")
@LANGUAGE
def advise(file: BinaryIO, language: str, *, table: bool, drawing: bool, sheet: bool, pdf: bool) -> None:
    """Advise on the opening in FILE (- for standard input), without a server."""
    from jambset.http.catalogue import rule_wires
    from jambset.http.negotiate import HTML, PDF, SVG
    from jambset.http.openings import DRAWINGS
    from jambset.render.language import LANGUAGES

    forms = {SVG: drawing, HTML: sheet, PDF: pdf}
    form = form_of(forms, "Choose one of --table, --drawing, --sheet and --pdf.", table=table)
    catalogue = catalogue_of(settings_from_environment())
    answer = answer_to(file.read(), ADVICE, catalogue, language)
    if table:
        print_advices([json.loads(answer)], rule_wires(catalogue))
    elif form is not None:
        click.echo(DRAWINGS[form](json.loads(answer), LANGUAGES[language]), nl=False)
    else:
        click.echo(pretty(answer))


@cli.command()
@click.argument("file", type=click.File("rb"))
@click.option("--table", is_flag=True, help="Print a table and the remedies instead of JSON.")
@click.option("--drawing", is_flag=True, help="Print its section as SVG.")
@click.option("--sheet", is_flag=True, help="Print its sheet as HTML.")
@click.option("--pdf", is_flag=True, help="Print its sheet as PDF.")
@LANGUAGE
def recheck(file: BinaryIO, language: str, *, table: bool, drawing: bool, sheet: bool, pdf: bool) -> None:
    """Judge the opening in FILE as it was set (- for standard input), without a server."""
    from jambset.http.negotiate import HTML, PDF, SVG
    from jambset.http.openings import RECHECKS
    from jambset.render.language import LANGUAGES

    forms = {SVG: drawing, HTML: sheet, PDF: pdf}
    form = form_of(forms, "Choose one of --table, --drawing, --sheet and --pdf.", table=table)
    answer = answer_to(file.read(), RECHECK, catalogue_of(settings_from_environment()), language)
    if table:
        print_rechecks([json.loads(answer)])
    elif form is not None:
        click.echo(RECHECKS[form](json.loads(answer), LANGUAGES[language]), nl=False)
    else:
        click.echo(pretty(answer))


@cli.command()
@click.argument("file", type=click.File("rb"))
@click.option("--recheck", "is_set", is_flag=True, help="Judge its doors as they were set, and merge the work on them.")
@click.option("--table", is_flag=True, help="Print a table of its openings and the summary instead of JSON.")
@click.option("--csv", "name", help="Print this list as CSV: openings, head_lines, order, trim and others.")
@click.option("--calendar", is_flag=True, help="Print its tasks as iCalendar.")
@click.option("--sheet", is_flag=True, help="Print its sheet as HTML.")
@click.option("--pdf", is_flag=True, help="Print its sheet as PDF.")
@LANGUAGE
def house(
    file: BinaryIO,
    name: str | None,
    language: str,
    *,
    is_set: bool,
    table: bool,
    calendar: bool,
    sheet: bool,
    pdf: bool,
) -> None:
    """Advise on the openings of the house in FILE together (- for standard input), without a server."""
    from jambset.http.calls import Negotiated
    from jambset.http.houses import LIST, RECHECK_RENDITIONS, RENDITIONS
    from jambset.http.negotiate import CALENDAR, CSV, HTML, PDF
    from jambset.render.language import LANGUAGES
    from jambset.render.lists import LISTS
    from jambset.render.lists_recheck import RECHECK_LISTS

    lists, renditions = (RECHECK_LISTS, RECHECK_RENDITIONS) if is_set else (LISTS, RENDITIONS)
    forms = {CSV: name is not None, CALENDAR: calendar, HTML: sheet, PDF: pdf}
    form = form_of(forms, "Choose one of --table, --csv, --calendar, --sheet and --pdf.", table=table)
    if name is not None and name not in lists:
        raise click.BadParameter(f"must be one of: {', '.join(lists)}.", param_hint="--csv")
    call = HOUSE_RECHECK if is_set else HOUSE
    answer = answer_to(file.read(), call, catalogue_of(settings_from_environment()), language)
    if table:
        (print_house_recheck if is_set else print_house)(json.loads(answer))
    elif form is not None:
        asked = Negotiated(form, LANGUAGES[language], {} if name is None else {LIST: name})
        click.echo(renditions[form](answer, asked).data, nl=False)
    else:
        click.echo(pretty(answer))


def form_of(forms: Mapping[str, bool], choose: str, *, table: bool) -> str | None:
    """The media type that is wanted of an answer besides JSON and a table, if one is; of two at once nothing is made.

    forms: each with whether its option was given. choose: what is said of two. Raises UsageError.
    """
    wanted = [form for form, is_wanted in forms.items() if is_wanted]
    if table + len(wanted) > 1:
        raise click.UsageError(choose)
    return next(iter(wanted), None)


def answer_to(body: bytes, call: str, catalogue: Catalogue, language: str) -> bytes:
    """The answer that a call gives to a body; a refused one is told on standard error and ends the program with 2."""
    from jambset.errors import RequestError
    from jambset.http.advise import givers
    from jambset.render.language import LANGUAGES

    try:
        return givers(catalogue)[call](body, LANGUAGES[language])
    except RequestError as refusal:
        click.echo(problem_text(refusal), err=True)
        sys.exit(2)


@cli.command()
@click.option("--jurisdiction", help="Only rules that hold in this place, those of its parents included.")
@click.option("--topic", help="Only rules about this topic.")
@click.option("--force", help="Only rules of this force.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead of a table.")
def rules(jurisdiction: str | None, topic: str | None, force: str | None, *, as_json: bool) -> None:
    """List the rules of the catalogue with their sources."""
    from jambset.http.catalogue import rule_filter, rule_filters, rule_wires
    from jambset.render.rows import RULE_COLUMNS, rule_row

    catalogue = catalogue_of(settings_from_environment())
    asked = {"jurisdiction": jurisdiction, "topic": topic, "force": force}
    wanted = {name: value for name, value in asked.items() if value is not None}
    for name, value in wanted.items():
        if value not in (known := rule_filters(catalogue)[name]):
            raise click.BadParameter(f"must be one of: {', '.join(known)}.", param_hint=f"--{name}")
    keep = rule_filter(catalogue)
    found = [wire for wire in rule_wires(catalogue) if keep(wire, wanted)]
    if as_json:
        click.echo(json.dumps(found, indent=2, ensure_ascii=False))
    else:
        print_rows(RULE_COLUMNS, map(rule_row, found))


@cli.command()
@click.option("--check", type=click.Path(exists=True, dir_okay=False, path_type=Path), help="Compare with this file.")
def openapi(check: Path | None) -> None:
    """Print the OpenAPI document; with --check exit 1 where a file differs from it."""
    document = contract_of(settings_from_environment())
    if check is None:
        click.echo(document, nl=False)
    elif check.read_bytes() != document:
        raise click.ClickException(f"{check} differs from the contract; write it anew: jambset openapi > {check}")


@cli.command()
@click.option("--check", is_flag=True, help="Change nothing, exit 1 where an answer is stale.")
@click.option("--folder", type=click.Path(exists=True, file_okay=False, path_type=Path), help="Folder of scenarios.")
def sandbox(folder: Path | None, *, check: bool) -> None:
    """Work the sandbox scenarios' answers out again."""
    from jambset.http.advise import givers

    stale = dict(_stale_scenarios(folder or sandbox_folder(), givers(catalogue_of(settings_from_environment()))))
    if check and stale:
        raise click.ClickException(f"stale: {', '.join(path.name for path in stale)}; mend with: jambset sandbox")
    for path, text in stale.items():
        path.write_bytes(text)
        click.echo(f"wrote {path.name}")


def _stale_scenarios(folder: Path, givers: Mapping[str, Callable[[bytes], bytes]]) -> Iterator[tuple[Path, bytes]]:
    """Scenario files whose answer isn't what the engine gives now, with their new text."""
    import msgspec

    for path in sorted(folder.glob("*.json")):
        scenario = msgspec.json.decode(path.read_bytes())
        give = givers[scenario.get("call", ADVICE)]
        scenario["response"] = msgspec.Raw(give(msgspec.json.encode(scenario["request"])))
        text = msgspec.json.format(msgspec.json.encode(scenario), indent=2) + b"\n"
        if text != path.read_bytes():
            yield path, text


# --- what is printed


def pretty(answer: bytes) -> str:
    """Compact JSON with line breaks, numbers as they were."""
    import msgspec

    return msgspec.json.format(answer, indent=2).decode()


def problem_text(refusal: Any) -> str:
    """A refused request in lines: what is wrong, then each field to mend."""
    from jambset.render.rows import plain

    lines = (f"  {error.pointer}  {error.detail}" for error in refusal.errors)
    return "\n".join(map(plain, [f"{refusal.title}: {refusal.detail}", *lines]))


def print_advices(
    advices: Sequence[Mapping[str, Any]], rules: Iterable[Mapping[str, Any]], headings: Sequence[str] = ()
) -> None:
    """Prints decoded advices: a table with one opening a line, then each summary with the rules behind it.

    rules: as GET /v1/rules answers them. headings: one for each advice, beside its mark.
    """
    from jambset.render.rows import COLUMNS, explained, row

    print_rows(COLUMNS, map(row, advices))
    by_id = {rule["id"]: rule for rule in rules}
    for advice, heading in zip(advices, headings or [""] * len(advices), strict=True):
        click.echo("\n" + explained(advice, by_id, heading=heading, width=columns_to_print()))
    print_cautions(advices)


def print_rechecks(answers: Sequence[Mapping[str, Any]], headings: Sequence[str] = ()) -> None:
    """Prints decoded rechecks: a table with one opening a line, then each summary with its remedies."""
    from jambset.render.rows import RECHECK_COLUMNS, recheck_row, remedied

    print_rows(RECHECK_COLUMNS, map(recheck_row, answers))
    for answer, heading in zip(answers, headings or [""] * len(answers), strict=True):
        click.echo("\n" + remedied(answer, heading=heading, width=columns_to_print()))
    print_cautions(answers)


def print_house(answer: Mapping[str, Any], heading: str = "") -> None:
    """Prints a decoded house: a table with one opening a line, then its summary, head lines and open questions."""
    from jambset.render.rows import COLUMNS, house_told, result_row

    print_rows(COLUMNS, map(result_row, answer["openings"]))
    click.echo("\n" + house_told(answer, heading=heading, width=columns_to_print()))
    print_cautions([one["advice"] for one in answer["openings"] if "advice" in one], answer)


def print_house_recheck(answer: Mapping[str, Any], heading: str = "") -> None:
    """Prints a decoded house whose doors are set: a table with one opening a line, then its summary and the work."""
    from jambset.render.rows import RECHECK_COLUMNS, house_mended, recheck_result_row

    print_rows(RECHECK_COLUMNS, map(recheck_result_row, answer["openings"]))
    click.echo("\n" + house_mended(answer, heading=heading, width=columns_to_print()))
    print_cautions([one["advice"] for one in answer["openings"] if "advice" in one], answer)


def print_cautions(answers: Sequence[Mapping[str, Any]], house: Mapping[str, Any] | None = None) -> None:
    """Prints what endangers whoever does the work, and the notice; nothing where no opening was answered."""
    from jambset.render.rows import warned

    if told := warned(answers, house, width=columns_to_print()):
        click.echo("\n" + told)


def print_rows(columns: Sequence[str], lines: Iterable[Sequence[str]]) -> None:
    """Prints plain strings as a table, no wider than the terminal as far as its words allow."""
    from rich.box import HORIZONTALS
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from jambset.render.rows import BETWEEN, fitted

    widths, (titles, *rows) = fitted([columns, *lines], columns_to_print())
    table = Table(box=HORIZONTALS, show_lines=True, show_edge=False, pad_edge=False, padding=(0, BETWEEN - 1, 0, 0))
    for title, width in zip(titles, widths, strict=True):
        table.add_column(title, width=width, no_wrap=True)
    for cells in rows:
        table.add_row(*map(Text, cells))
    Console(width=sum(widths) + BETWEEN * len(widths)).print(table)


def columns_to_print() -> int:
    """Width of the terminal; of what goes to none, WIDTH_OF_A_FILE unless COLUMNS is set."""
    terminal = sys.stdout.isatty() or "COLUMNS" in os.environ
    return shutil.get_terminal_size().columns if terminal else WIDTH_OF_A_FILE


if __name__ == "__main__":
    cli()
