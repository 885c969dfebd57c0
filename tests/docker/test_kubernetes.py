from __future__ import annotations

import copy
import json
import re
from pathlib import Path
from typing import Any

import kubernetes_validate
import pytest
import yaml
from docker.dockerfile import stages
from kubernetes_validate.utils import all_versions

from jambset.http.settings import PREFIX, Settings
from jambset.main import CUT_SECONDS
from jambset.model.version import VERSION

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docker" / "kubernetes"
MANIFESTS: dict[str, dict[str, Any]] = {
    path.name: yaml.safe_load(path.read_text("utf-8")) for path in sorted(FOLDER.glob("*.yaml"))
}
KUSTOMIZATION = MANIFESTS.pop("kustomization.yaml")
OF_KIND = {manifest["kind"]: manifest for manifest in MANIFESTS.values()}
DEPLOYMENT = OF_KIND["Deployment"]
POD = DEPLOYMENT["spec"]["template"]
(CONTAINER,) = POD["spec"]["containers"]
PORTS = {each["name"]: each["containerPort"] for each in CONTAINER["ports"]}
SETTINGS = Settings.from_env(
    {**stages()[-1].pairs("ENV"), **{each["name"]: each["value"] for each in CONTAINER["env"]}}
)
OLDEST = 30
"""Kubernetes 1.30, the first where preStop sleeps without a switch."""
RELEASES = sorted({version for version in all_versions() if int(version.split(".")[1]) >= OLDEST})


@pytest.mark.parametrize("release", RELEASES)
@pytest.mark.parametrize("name", MANIFESTS)
def test_each_manifest_is_what_the_published_schema_says(name: str, release: str) -> None:
    assert kubernetes_validate.validate(MANIFESTS[name], release, strict=True) == release.rpartition(".")[0]


@pytest.mark.parametrize("name", MANIFESTS)
def test_the_schema_would_refuse_a_misspelt_field(name: str) -> None:
    spoilt = copy.deepcopy(MANIFESTS[name])
    spoilt["spec"]["misspelt"] = 1
    with pytest.raises(kubernetes_validate.ValidationError, match="misspelt"):
        kubernetes_validate.validate(spoilt, RELEASES[-1], strict=True)


def test_the_kustomization_names_every_manifest_and_the_image() -> None:
    """No package bundles a schema of this file."""
    assert set(KUSTOMIZATION) == {"apiVersion", "kind", "resources", "images"}
    assert sorted(KUSTOMIZATION["resources"]) == sorted(MANIFESTS)
    assert KUSTOMIZATION["images"] == [{"name": "jambset", "newTag": VERSION}]
    assert CONTAINER["image"] == f"jambset:{VERSION}"


def test_each_kind_is_there_once_and_in_no_namespace() -> None:
    kinds = {"Deployment", "Service", "HorizontalPodAutoscaler", "PodDisruptionBudget", "NetworkPolicy"}
    assert len(MANIFESTS) == len(OF_KIND)
    assert set(OF_KIND) == kinds
    assert all("namespace" not in manifest["metadata"] for manifest in MANIFESTS.values())


def test_every_selector_finds_the_pods() -> None:
    labels = POD["metadata"]["labels"]
    spread = [each["labelSelector"] for each in POD["spec"]["topologySpreadConstraints"]]
    for selector in (
        DEPLOYMENT["spec"]["selector"],
        OF_KIND["PodDisruptionBudget"]["spec"]["selector"],
        OF_KIND["NetworkPolicy"]["spec"]["podSelector"],
        {"matchLabels": OF_KIND["Service"]["spec"]["selector"]},
        *spread,
    ):
        assert selector == {"matchLabels": labels}
    assert {each["topologyKey"] for each in POD["spec"]["topologySpreadConstraints"]} == {
        "topology.kubernetes.io/zone",
        "kubernetes.io/hostname",
    }


def test_ports_agree_from_the_service_to_the_settings() -> None:
    (service,) = OF_KIND["Service"]["spec"]["ports"]
    assert {"http": SETTINGS.port, "metrics": SETTINGS.metrics_port} == PORTS
    assert SETTINGS.port == Settings().port
    assert service["targetPort"] == "http"


def test_probes_ask_what_the_service_answers() -> None:
    paths = json.loads((ROOT / "openapi" / "jambset.openapi.json").read_bytes())["paths"]
    probes = {kind: CONTAINER[f"{kind}Probe"]["httpGet"] for kind in ("startup", "liveness", "readiness")}
    assert {kind: probe["path"] for kind, probe in probes.items()} == {
        "startup": "/health/live",
        "liveness": "/health/live",
        "readiness": "/health/ready",
    }
    assert {probe["path"] for probe in probes.values()} <= set(paths)
    assert {probe["port"] for probe in probes.values()} == {"http"}


def test_the_environment_is_made_of_settings_and_of_nothing_kubernetes_adds() -> None:
    names = [each["name"].removeprefix(PREFIX).lower() for each in CONTAINER["env"]]
    assert set(names) <= set(Settings.__struct_fields__)
    assert SETTINGS.workers == 1
    assert POD["spec"]["enableServiceLinks"] is False


def test_keys_come_from_a_secret_that_the_pods_group_reads() -> None:
    (mount,), (volume,) = CONTAINER["volumeMounts"], POD["spec"]["volumes"]
    assert SETTINGS.needs_key
    assert SETTINGS.keys_file == f"{mount['mountPath']}/keys"
    assert (mount["name"], mount["readOnly"]) == (volume["name"], True)
    assert volume["secret"] == {"secretName": "jambset-keys", "defaultMode": 0o440}
    assert POD["spec"]["securityContext"]["fsGroup"] == POD["spec"]["securityContext"]["runAsGroup"]


def test_a_pod_may_do_nothing_but_serve() -> None:
    pod, container = POD["spec"]["securityContext"], CONTAINER["securityContext"]
    user = stages()[-1].one("USER").text
    assert POD["spec"]["automountServiceAccountToken"] is False
    assert pod["runAsNonRoot"] is True
    assert f"{pod['runAsUser']}:{pod['runAsGroup']}" == user
    assert pod["seccompProfile"] == {"type": "RuntimeDefault"}
    assert container == {
        "allowPrivilegeEscalation": False,
        "readOnlyRootFilesystem": True,
        "capabilities": {"drop": ["ALL"]},
    }
    assert not {"hostNetwork", "hostPID", "hostIPC"} & set(POD["spec"])


def test_an_update_takes_no_pod_away_before_another_is_ready() -> None:
    strategy = DEPLOYMENT["spec"]["strategy"]
    assert strategy == {"type": "RollingUpdate", "rollingUpdate": {"maxSurge": 1, "maxUnavailable": 0}}


def test_a_pod_that_goes_has_time_for_the_sleep_and_the_longest_call() -> None:
    sleep = CONTAINER["lifecycle"]["preStop"]["sleep"]["seconds"]
    readiness = CONTAINER["readinessProbe"]
    assert sleep > readiness["periodSeconds"] * readiness["failureThreshold"]
    assert POD["spec"]["terminationGracePeriodSeconds"] > sleep + SETTINGS.drain_seconds + CUT_SECONDS


def test_the_autoscaler_and_the_budget_leave_the_deployment_a_pod() -> None:
    autoscaler = OF_KIND["HorizontalPodAutoscaler"]["spec"]
    assert autoscaler["scaleTargetRef"] == {
        **{name: DEPLOYMENT[name] for name in ("apiVersion", "kind")},
        "name": DEPLOYMENT["metadata"]["name"],
    }
    assert "replicas" not in DEPLOYMENT["spec"]
    assert autoscaler["minReplicas"] > OF_KIND["PodDisruptionBudget"]["spec"]["maxUnavailable"] >= 1
    assert autoscaler["maxReplicas"] > autoscaler["minReplicas"]


def test_the_autoscaler_has_a_request_to_measure_by_and_limits_are_not_below_requests() -> None:
    requests, limits = (CONTAINER["resources"][name] for name in ("requests", "limits"))
    (metric,) = OF_KIND["HorizontalPodAutoscaler"]["spec"]["metrics"]
    assert metric["resource"]["name"] in requests
    assert _amount(requests["cpu"]) <= _amount(limits["cpu"])
    assert 105e6 < _amount(requests["memory"]) <= _amount(limits["memory"])


def _amount(text: str) -> float:
    number, unit = re.fullmatch(r"(\d+)(m|Mi|)", text).groups()  # type: ignore[union-attr]
    return float(number) * {"m": 1e-3, "Mi": 2.0**20, "": 1.0}[unit]


def test_callers_come_from_labelled_namespaces_alone_and_nothing_is_called() -> None:
    policy = OF_KIND["NetworkPolicy"]["spec"]
    assert policy["policyTypes"] == ["Ingress", "Egress"]
    assert policy["egress"] == []
    allowed = {
        (port["port"], *source["namespaceSelector"]["matchLabels"].items())
        for rule in policy["ingress"]
        for source in rule["from"]
        for port in rule["ports"]
    }
    assert allowed == {
        ("http", ("jambset-access", "ingress")),
        ("metrics", ("jambset-access", "monitoring")),
    }
