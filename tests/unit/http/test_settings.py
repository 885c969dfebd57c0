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
        "JAMBSET_PROBLEM_BASE": "https://doors.example",
        "JAMBSET_RULES": "rules",
    }
    assert {name.removeprefix("JAMBSET_").lower() for name in given} == set(Settings.__struct_fields__)
    assert Settings.from_env(given) == Settings(
        host="0.0.0.0",
        port=9000,
        workers=3,
        max_body_bytes=2048,
        max_house_bytes=4096,
        problem_base="https://doors.example",
        rules="rules",
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
    ],
)
def test_what_cant_be_used_is_refused_by_the_variables_name(name: str, value: str) -> None:
    with pytest.raises(SettingsError, match=f"^{name}: Expected"):
        Settings.from_env({"JAMBSET_RULES": "", name: value})


def test_a_port_set_by_a_kubernetes_service_link_is_explained() -> None:
    with pytest.raises(SettingsError, match=r"JAMBSET_PORT: .*enableServiceLinks"):
        Settings.from_env({"JAMBSET_PORT": "tcp://10.0.0.1:8080"})
