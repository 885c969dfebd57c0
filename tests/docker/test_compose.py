from __future__ import annotations

from ipaddress import ip_address, ip_network
from pathlib import Path
from typing import Any

import pytest
import yaml
from compose_spec import PyCompose
from docker.dockerfile import stages
from docker.processes import BACKENDS, CONFIGURATION
from tests.docker.blocks import read

from jambset.http.settings import PREFIX, Settings
from jambset.main import CUT_SECONDS
from jambset.model.version import VERSION

FOLDER = Path(__file__).parents[2] / "docker"
COMPOSE: dict[str, Any] = yaml.safe_load((FOLDER / "compose.yaml").read_text("utf-8"))
SERVICES: dict[str, dict[str, Any]] = COMPOSE["services"]
PROXY = SERVICES["proxy"]
OURS = {name: service for name, service in SERVICES.items() if name != "proxy"}


def _typed(compose: dict[str, Any]) -> PyCompose:
    """As a reader of the Compose Specification takes it, which refuses what the specification doesn't name."""
    return PyCompose.from_yaml(yaml.safe_dump(compose))


def test_the_file_is_what_the_specification_says() -> None:
    assert set(_typed(COMPOSE).service_names()) == {"jambset-1", "jambset-2", "proxy"}


def test_a_misspelt_key_would_be_refused() -> None:
    with pytest.raises(ValueError, match="readonly"):
        _typed({**COMPOSE, "services": {"proxy": {**PROXY, "readonly": True}}})


@pytest.mark.parametrize("name", SERVICES)
def test_each_container_has_the_least_it_needs(name: str) -> None:
    service = SERVICES[name]
    assert service["read_only"] is True
    assert service["cap_drop"] == ["ALL"]
    assert service["security_opt"] == ["no-new-privileges:true"]
    assert set(service["deploy"]["resources"]["limits"]) == {"cpus", "memory", "pids"}
    assert "privileged" not in service
    assert ":latest" not in service["image"]


def test_the_processes_have_the_images_own_user_and_health_check_and_real_settings() -> None:
    final = stages()[-1]
    assert final.all("HEALTHCHECK")
    for service in OURS.values():
        assert not {"user", "healthcheck", "entrypoint", "command", "ports", "tmpfs"} & set(service)
        assert service["image"] == f"jambset:{VERSION}"
        assert (FOLDER / service["build"]["context"] / service["build"]["dockerfile"]).samefile(FOLDER / "Dockerfile")
        assert {name.removeprefix(PREFIX).lower() for name in service["environment"]} <= {*Settings.__struct_fields__}
        settings = Settings.from_env({**final.pairs("ENV"), **service["environment"]})
        assert settings.workers == 1
        assert settings.needs_key
        assert (service["secrets"], settings.keys_file) == (["keys"], "/run/secrets/keys")
    assert COMPOSE["secrets"]["keys"]["file"].startswith("${JAMBSET_KEYS_FILE:?")


def test_the_proxy_asks_exactly_the_processes_where_they_are() -> None:
    addresses = [service["networks"]["inside"]["ipv4_address"] for service in OURS.values()]
    assert [f"{address}:{Settings().port}" for address in addresses] == [*BACKENDS]
    http = read(CONFIGURATION).one("http")
    for upstream in http.all("upstream"):
        assert [each.words[1] for each in upstream.all("server")] == [*BACKENDS]


def test_the_processes_reach_nothing_and_only_the_proxy_reaches_them() -> None:
    inside = COMPOSE["networks"]["inside"]
    subnet = ip_network(inside["ipam"]["config"][0]["subnet"])
    assert inside["internal"] is True
    for service in OURS.values():
        assert set(service["networks"]) == {"inside"}
        assert ip_address(service["networks"]["inside"]["ipv4_address"]) in [*subnet.hosts()][1:]
    assert PROXY["networks"] == ["inside", "outside"]


def test_the_proxy_believes_its_host_alone_who_called() -> None:
    (outside,) = COMPOSE["networks"]["outside"]["ipam"]["config"]
    http = read(CONFIGURATION).one("http")
    assert http.one("set_real_ip_from").words[1:] == (outside["gateway"],)
    assert ip_address(outside["gateway"]) == next(ip_network(outside["subnet"]).hosts())
    assert http.one("real_ip_header").words[1:] == ("X-Forwarded-For",)
    assert http.all("real_ip_recursive") == []  # its last word, whatever a caller wrote before it


def test_the_proxy_is_published_to_this_host_alone_where_it_listens() -> None:
    listens = read(CONFIGURATION).one("http").one("server").one("listen").words[1]
    (published,) = PROXY["ports"]
    assert published.split(":") == ["127.0.0.1", "8080", listens]


def test_the_proxy_waits_for_the_processes_and_has_its_committed_configuration() -> None:
    assert PROXY["depends_on"] == {name: {"condition": "service_healthy"} for name in OURS}
    source, target, mode = PROXY["volumes"][0].split(":")
    assert (FOLDER / source).samefile(CONFIGURATION)
    assert (target, mode) == ("/etc/nginx/nginx.conf", "ro")
    user, _, group = PROXY["user"].partition(":")
    assert int(user) > 0 < int(group)
    assert PROXY["healthcheck"]["test"][-1] == "http://127.0.0.1:8080/health/live"


def test_a_stop_waits_longer_than_what_is_under_way() -> None:
    grace = {name: int(service["stop_grace_period"].removesuffix("s")) for name, service in SERVICES.items()}
    assert grace["proxy"] > read(CONFIGURATION).one("worker_shutdown_timeout").seconds
    assert PROXY["stop_signal"] == "SIGQUIT"
    assert min(grace[name] for name in OURS) > Settings().drain_seconds + CUT_SECONDS


def test_only_a_folder_in_memory_can_be_written() -> None:
    (folder,) = PROXY["tmpfs"]
    assert folder.startswith("/tmp:size=")
    configuration = CONFIGURATION.read_text("utf-8")
    written = ("pid", "client_body_temp_path", "proxy_temp_path", "fastcgi_temp_path", "uwsgi_temp_path")
    assert all(f"{name} /tmp/" in configuration for name in (*written, "scgi_temp_path"))
