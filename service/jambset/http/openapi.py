"""The contract: one OpenAPI 3.1 document, built from the structs, committed, and served as it is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from jambset.errors import (
    Busy,
    FieldError,
    InvalidRequest,
    MissingKey,
    RequestError,
    TooManyRequests,
    WrongMediaType,
    WrongMethod,
)
from jambset.http.codings import CODINGS, IDENTITY
from jambset.http.negotiate import PROBLEM_JSON
from jambset.http.patches import REF
from jambset.http.paths import KEY, TAGS, paths
from jambset.http.problems import INTERNAL, kind_of, problem_of, tree
from jambset.http.sandbox import Scenario
from jambset.http.schemas import request_schemas, response_schemas
from jambset.model.request import UNSHOWN
from jambset.render.language import LANGUAGES
from jambset.rules.schema import Catalogue

Schema = dict[str, Any]

DESCRIPTION = """\
Advice for setting interior door jambs before the floors are laid: how high each leg stands, what is cut off the leaf \
and when, what air passes the closed door, and what joins the two floors.

- **Lengths** are written as trade text (`"1 1/2 in"`, `"6 ft 8 in"`, `"38 mm"`) or as number and unit; a bare number \
is refused. Answers have millimetres, inches and text.
- **Terms**: the leaf swings over the *pull side* and only closes over the *push side*. Heights stand above the \
*datum*, the highest subfloor under the legs. *Foot*: where the legs end. *Undercut*: leaf bottom to frame bottom, as \
the unit was made; uncut, the leaf ends at foot plus undercut. *Trim*: what is cut off the leaf. *Build-up*: the \
layers above the subfloor, bottom up. *Clearance*: leaf bottom to the top of what lies beneath.
- **Stateless**: nothing of a request is stored. A POST changes nothing and can be sent again at any time.
- **Errors** are problem details (RFC 9457). 400 can't be read; 422 can be read but is invalid, with every faulty \
field in `errors`. Unknown and repeated fields are refused, and so are unknown query parameters.
- **Sending again**: any call may be sent again. After 429 and 503 wait the seconds in `Retry-After`; after 408, 500, \
a gateway's 502 or 504, or a broken connection, wait longer each time. Anything else gets the same answer again: fix \
the request. Of a stream, send what has no answer yet.
- **Keeping answers**: they depend only on the request, `release` and `rule_set_digest`, never on a clock. A kept \
answer is current while GET /health/ready names the same two. A request that names its `rule_set` is never answered \
by another one, which refuses it (`unknown_name`).
- **Reading**: every GET answers HEAD too, and `If-None-Match` where it has an `ETag`.
- **Headers**: all lines of one name count as one list. A header allowed only once is refused or ignored if sent \
twice.
- **Languages**: prose follows `Accept-Language` (English, Spanish); numbers, codes and ids are the same in both. \
Problem details and lookups are in English. The Spanish awaits review by a native speaker of the trade.
- **Keys**: a service that needs a key answers 401 without one; its operator issues them. Where requests are limited, \
`RateLimit` in each answer says how many are left. A service may accept only certain host names, and answers 421 to \
others.
- **Growth**: addresses begin with the major version. Within it responses may get new members and code lists new \
values; ignore what you don't know.
- **Showing drawings and sheets**: put an SVG inline or into an image; its ids are its own. A sheet is a whole page \
with a style sheet in it: show it in a sandboxed frame (`srcdoc`). Neither has a script or loads anything.
- **Correlation**: `X-Request-ID` and W3C `traceparent` are accepted when well formed, and sent back.

Local code, the door's listing and licensed practice decide; every advice says which rules it followed.
"""


def build_document(catalogue: Catalogue, sandbox: Iterable[Scenario], version: str) -> Schema:
    """The contract as a value; the same arguments always give the same document."""
    requested, answered = request_schemas(catalogue), response_schemas()
    if clash := requested.keys() & answered.keys():
        raise ValueError(f"schemas of request and response share the names {sorted(clash)}")
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "jambset",
            "version": version,
            "summary": "Jamb setting, undercut, return air and threshold transition of interior doors.",
            "description": DESCRIPTION,
        },
        "servers": [{"url": "/", "description": "Where this document was fetched."}],
        "tags": [{"name": name, "description": about} for name, about in TAGS.items()],
        "paths": paths(catalogue, tuple(sandbox)),
        "components": {
            "schemas": dict(sorted({**requested, **answered}.items())),
            "responses": _responses(),
            "parameters": {"IfNoneMatch": _IF_NONE_MATCH, "AcceptLanguage": _ACCEPT_LANGUAGE},
            "headers": _HEADERS,
            "securitySchemes": {KEY: _KEY},
        },
    }


def encode_document(document: Schema) -> bytes:
    """The document as it is committed and served: indented, one line end at its end."""
    text = _UNSHOWN.sub(lambda found: f"\\u{ord(found[0]):04x}", msgspec.json.encode(document).decode())
    return msgspec.json.format(text.encode(), indent=2) + b"\n"


_UNSHOWN = re.compile(f"[{UNSHOWN}]")
"""What nobody would see in the document, and a terminal would act on."""


# --- shared components

_KEY: Schema = {
    "type": "http",
    "scheme": "bearer",
    "description": "A key from the service's operator. It needs one unless it is reached only from its own machine, or "
    "is set up without.",
}
_IF_NONE_MATCH: Schema = {
    "name": "If-None-Match",
    "in": "header",
    "required": False,
    "description": "ETag of a representation the caller has; answered with 304 while it is current.",
    "schema": {"type": "string"},
}
_ACCEPT_LANGUAGE: Schema = {
    "name": "Accept-Language",
    "in": "header",
    "required": False,
    "description": f"Language of the prose: {', '.join(LANGUAGES)}; the first where none of them is requested.",
    "schema": {"type": "string"},
}
_HEADERS: dict[str, Schema] = {
    "ETag": {
        "description": "Strong validator: a hash of the content.",
        "required": True,
        "schema": {"type": "string", "pattern": '^"[0-9a-f]{32}"$'},
    },
    "ContentDisposition": {
        "description": "Name for the file, where the answer is one.",
        "required": False,
        "schema": {"type": "string"},
    },
    "ContentLanguage": {
        "description": "Language of the answer's prose.",
        "required": True,
        "schema": {"type": "string", "enum": list(LANGUAGES)},
    },
    "ContentEncoding": {
        "description": "Coding of the answer, where it has one.",
        "required": False,
        "schema": {"type": "string", "enum": [name for name in CODINGS if name != IDENTITY]},
    },
    "RateLimit": {
        "description": "Requests left (r), and seconds until one more is (t); where requests are limited.",
        "required": False,
        "schema": {"type": "string", "examples": ['"default";r=59;t=1']},
    },
    "RateLimitPolicy": {
        "description": "Requests allowed (q) in seconds (w); where requests are limited.",
        "required": False,
        "schema": {"type": "string", "examples": ['"default";q=60;w=60']},
    },
    "CacheControl": {"description": "How long it may be kept.", "required": True, "schema": {"type": "string"}},
    "RequestId": {
        "description": "Id of this request, the caller's own when it sent one; it is in the log too.",
        "required": True,
        "schema": {"type": "string", "pattern": "^[A-Za-z0-9._:@-]{1,128}$"},
    },
}


def _responses() -> dict[str, Schema]:
    """One response for each type of problem, the service's own fault, any other, and 304."""
    refused = {cls.__name__: _refused(cls) for cls in tree() if "slug" in vars(cls)}
    failed = {"description": INTERNAL.title, **_problem_content(INTERNAL.code, problem_of(None))}
    other = {"description": "Any other problem.", **_problem_content("", None)}
    headers = {"ETag": {"$ref": "#/components/headers/ETag"}}
    unchanged = {"description": "The caller's representation is current.", "headers": headers}
    return {**refused, "InternalError": failed, "AnyProblem": other, "NotModified": unchanged}


def _refused(cls: type[RequestError]) -> Schema:
    kind = kind_of(cls)
    example = cls("What is wrong with this request.", _SAMPLE_ERRORS if cls is InvalidRequest else ())
    own = {name: _header(about) for name, about in _OWN_HEADERS.get(cls, {}).items()}
    return {"description": kind.title, **_problem_content(kind.code, problem_of(example), own)}


def _header(about: str) -> Schema:
    return {"description": about, "required": True, "schema": {"type": "string"}}


_WAIT = {"Retry-After": "Seconds until the same request can be sent again."}
_OWN_HEADERS: dict[type[RequestError], Mapping[str, str]] = {
    WrongMediaType: {"Accept": "The media types read here.", "Accept-Encoding": "The content codings read here."},
    WrongMethod: {"Allow": "The methods of this address."},
    MissingKey: {"WWW-Authenticate": "Bearer, and invalid_token where the key sent isn't known (RFC 6750)."},
    TooManyRequests: {
        **_WAIT,
        "RateLimit-Policy": "Requests allowed (q) in seconds (w).",
        "RateLimit": "Requests left (r), and seconds until one more is (t).",
    },
    Busy: _WAIT,
}
_SAMPLE_ERRORS = (
    FieldError("#/leaf/height", "implausible", "80 mm is not a plausible leaf height; 80 in would be."),
    FieldError("#/pull_side/build_up/0/materal", "unknown_field", 'Remove it. Did you mean "material"?'),
)


def _problem_content(name: str, example: Any, extra: Schema | None = None) -> Schema:
    shown = {"examples": {name: {"value": msgspec.to_builtins(example)}}} if name else {}
    headers = {"X-Request-ID": {"$ref": "#/components/headers/RequestId"}, **(extra or {})}
    return {"headers": headers, "content": {PROBLEM_JSON: {"schema": {"$ref": REF.format(name="Problem")}, **shown}}}
