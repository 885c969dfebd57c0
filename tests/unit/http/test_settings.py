from __future__ import annotations

import pytest

from jambset.http.settings import Settings, SettingsError


def test_without_variables_the_defaults_hold() -> None:
    assert Settings.from_env({"PATH": "/bin", "JAMBSET_SERVICE_HOST": "10.0.0.1"}) == Settings()


def test_every_setting_is_read_from_its_variable() -> None:
    given = {
        "JAMBSET_HOST": "0.0.0.0",
        "JAMBSET_PORT": "9000",
        "JAMBSET_WORKERS": "3",
        "JAMBSET_MAX_BODY_BYTES": "2048",
        "JAMBSET_MAX_HOUSE_BYTES": "4096",
        "JAMBSET_MAX_HOUSE_PAIRS": "40",
        "JAMBSET_MAX_BULK_BYTES": "8192",
        "JAMBSET_MAX_BULK_LINES": "9",
        "JAMBSET_MAX_HELD_BYTES": "8192",
        "JAMBSET_BULK_STREAMS": "2",
        "JAMBSET_PROBLEM_BASE": "https://doors.example",
        "JAMBSET_RULES": "rules",
        "JAMBSET_AUTH": "off",
        "JAMBSET_KEYS": "ci 00",
        "JAMBSET_KEYS_FILE": "keys.txt",
        "JAMBSET_RATE": "60/30",
        "JAMBSET_ALLOWED_HOSTS": "a.example, *.b.example,[::1]",
        "JAMBSET_CORS_ORIGINS": "https://a.example,http://localhost:3000",
        "JAMBSET_METRICS_PORT": "9001",
        "JAMBSET_MAX_HEADER_BYTES": "8192",
        "JAMBSET_MAX_HEADER_FIELDS": "40",
        "JAMBSET_BODY_SECONDS": "5",
        "JAMBSET_MAX_CONNECTIONS": "100",
        "JAMBSET_DRAIN_SECONDS": "6",
    }
    assert {name.removeprefix("JAMBSET_").lower() for name in given} == set(Settings.__struct_fields__)
    assert Settings.from_env(given) == Settings(
        host="0.0.0.0",
        port=9000,
        workers=3,
        max_body_bytes=2048,
        max_house_bytes=4096,
        max_house_pairs=40,
        max_bulk_bytes=8192,
        max_bulk_lines=9,
        max_held_bytes=8192,
        bulk_streams=2,
        problem_base="https://doors.example",
        rules="rules",
        auth="off",
        keys="ci 00",
        keys_file="keys.txt",
        rate="60/30",
        allowed_hosts="a.example, *.b.example,[::1]",
        cors_origins="https://a.example,http://localhost:3000",
        metrics_port=9001,
        max_header_bytes=8192,
        max_header_fields=40,
        body_seconds=5,
        max_connections=100,
        drain_seconds=6,
    )


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("JAMBSET_HOST", ""),
        ("JAMBSET_PORT", "http"),
        ("JAMBSET_PORT", "65536"),
        ("JAMBSET_PORT", ""),
        ("JAMBSET_WORKERS", "0"),
        ("JAMBSET_MAX_BODY_BYTES", "1023"),
        ("JAMBSET_MAX_BODY_BYTES", "1e9"),
        ("JAMBSET_MAX_HOUSE_BYTES", "1023"),
        ("JAMBSET_PROBLEM_BASE", "doors.example"),
        ("JAMBSET_PROBLEM_BASE", "https://doors.example/"),
        ("JAMBSET_AUTH", "maybe"),
        ("JAMBSET_RATE", "60"),
        ("JAMBSET_RATE", "0/60"),
        ("JAMBSET_RATE", "60/0"),
        ("JAMBSET_RATE", "1e3/60"),
        ("JAMBSET_ALLOWED_HOSTS", "a.example:80"),
        ("JAMBSET_ALLOWED_HOSTS", "*"),
        ("JAMBSET_ALLOWED_HOSTS", "a.example,"),
        ("JAMBSET_ALLOWED_HOSTS", "https://a.example"),
        ("JAMBSET_CORS_ORIGINS", "*"),
        ("JAMBSET_CORS_ORIGINS", "null"),
        ("JAMBSET_CORS_ORIGINS", "a.example"),
        ("JAMBSET_CORS_ORIGINS", "https://a.example/"),
        ("JAMBSET_CORS_ORIGINS", "https://*.example"),
        ("JAMBSET_METRICS_PORT", "-1"),
        ("JAMBSET_MAX_HEADER_BYTES", "1023"),
        ("JAMBSET_MAX_HEADER_FIELDS", "15"),
        ("JAMBSET_MAX_HELD_BYTES", "1023"),
        ("JAMBSET_BODY_SECONDS", "0"),
        ("JAMBSET_MAX_CONNECTIONS", "0"),
        ("JAMBSET_DRAIN_SECONDS", "0"),
    ],
)
def test_what_cant_be_used_is_refused_by_the_variables_name(name: str, value: str) -> None:
    with pytest.raises(SettingsError, match=f"^{name}: Expected"):
        Settings.from_env({"JAMBSET_RULES": "", name: value})


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("AUTH", "on"),
        ("AUTH", "off"),
        ("RATE", "60/60"),
        ("RATE", ""),
        ("ALLOWED_HOSTS", "a.example"),
        ("CORS_ORIGINS", "https://a.example"),
        ("PROBLEM_BASE", "https://a.example"),
        ("PORT", "8080"),
    ],
)
@pytest.mark.parametrize("end", ["\n", "\r", " "])
def test_a_value_with_white_space_after_it_isnt_taken_for_another(end: str, name: str, value: str) -> None:
    """As a file that ends in a line break gives it; "on" with one was neither on nor refused."""
    Settings.from_env({f"JAMBSET_{name}": value})
    with pytest.raises(SettingsError, match=f"^JAMBSET_{name}: Expected"):
        Settings.from_env({f"JAMBSET_{name}": value + end})


@pytest.mark.parametrize(
    ("name", "meant"),
    [("ALOWED_HOSTS", "ALLOWED_HOSTS"), ("RATES", "RATE"), ("KEY_FILE", "KEYS_FILE"), ("MAX_BODY", "MAX_BODY_BYTES")],
)
def test_a_misspelt_variable_isnt_passed_over(name: str, meant: str) -> None:
    with pytest.raises(
        SettingsError, match=rf"^JAMBSET_{name}: there is no such setting. Did you mean JAMBSET_{meant}\?"
    ):
        Settings.from_env({f"JAMBSET_{name}": "1"})


@pytest.mark.parametrize(
    "name", ["JAMBSET_SERVICE_PORT", "JAMBSET_PORT_80_TCP_ADDR", "JAMBSET_VERSION", "ALLOWED_HOST"]
)
def test_a_variable_of_somebody_else_is(name: str) -> None:
    assert Settings.from_env({name: "1"}) == Settings()


def test_a_port_set_by_a_kubernetes_service_link_is_explained() -> None:
    with pytest.raises(SettingsError, match=r"JAMBSET_PORT: .*enableServiceLinks"):
        Settings.from_env({"JAMBSET_PORT": "tcp://10.0.0.1:8080"})


def test_the_metrics_cant_have_the_port_of_everything_else() -> None:
    with pytest.raises(SettingsError, match=r"^JAMBSET_METRICS_PORT: 9000 is the port of everything else"):
        Settings.from_env({"JAMBSET_PORT": "9000", "JAMBSET_METRICS_PORT": "9000"})
    assert Settings.from_env({"JAMBSET_PORT": "9000", "JAMBSET_METRICS_PORT": "8080"}).metrics_port == 8080


@pytest.mark.parametrize("longest", ["JAMBSET_MAX_BODY_BYTES", "JAMBSET_MAX_HOUSE_BYTES"])
def test_the_room_for_bodies_is_no_less_than_the_longest_alone(longest: str) -> None:
    """One that is let in by its length would be refused for ever."""
    others = {"JAMBSET_MAX_BODY_BYTES": "1024", "JAMBSET_MAX_HOUSE_BYTES": "1024", longest: "2048"}
    with pytest.raises(SettingsError, match=r"^JAMBSET_MAX_HELD_BYTES: a body may have 2048 bytes alone"):
        Settings.from_env({**others, "JAMBSET_MAX_HELD_BYTES": "2047"})
    assert Settings.from_env({**others, "JAMBSET_MAX_HELD_BYTES": "2048"}).max_held_bytes == 2048


@pytest.mark.parametrize(
    ("host", "needed"),
    [
        ("127.0.0.1", False),
        ("127.8.9.10", False),
        ("::1", False),
        ("localhost", False),
        ("LOCALHOST", False),
        ("0.0.0.0", True),
        ("::", True),
        ("10.0.0.1", True),
        ("192.168.1.20", True),
        ("2001:db8::1", True),
        ("128.0.0.1", True),
        ("localhost.example", True),
        ("doors.example", True),
    ],
)
def test_a_key_is_needed_off_loopback_unless_said_otherwise(host: str, needed: bool) -> None:
    assert Settings(host=host).needs_key is needed
    assert Settings(host=host, auth="on").needs_key
    assert not Settings(host=host, auth="off").needs_key


@pytest.mark.parametrize("name", ["PROBLEM_BASE", "KEYS", "HOST", "AUTH", "PORT"])
def test_bytes_that_arent_utf8_are_told_by_the_variables_name(name: str) -> None:
    with pytest.raises(SettingsError, match=f"^JAMBSET_{name}: must be text in UTF-8$"):
        Settings.from_env({f"JAMBSET_{name}": "https://doors.example/\udcff"})


def test_but_a_file_may_have_them_in_its_name() -> None:
    assert Settings.from_env({"JAMBSET_RULES": "\udcff", "JAMBSET_KEYS_FILE": "\udcff"}).rules == "\udcff"


@pytest.mark.parametrize("auth", ["on\n", "auto\n", "OFF", "off ", ""])
def test_what_is_neither_off_nor_auto_asks_for_a_key(auth: str) -> None:
    """Nothing else gets here from the environment; if it ever does, nobody is let in by it."""
    assert Settings(auth=auth).needs_key


@pytest.mark.parametrize("setting", ["JAMBSET_KEYS", "JAMBSET_KEYS_FILE"])
def test_who_sets_keys_wants_them_asked_for_behind_a_proxy_on_the_same_machine_too(setting: str) -> None:
    assert Settings.from_env({setting: "x"}).needs_key
    assert not Settings.from_env({setting: "x", "JAMBSET_AUTH": "off"}).needs_key
