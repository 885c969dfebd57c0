"""Writes the software bill of materials of jambset as CycloneDX 1.6, checked against its schema.

Run as `SOURCE_DATE_EPOCH=… python .ci/sbom.py jambset.cdx.json`. The same files and date give the same bytes.
"""

from __future__ import annotations

import os
import sys
import uuid
from datetime import UTC, datetime
from pathlib import Path

from components import Part, bundled, locked, project
from cyclonedx.contrib.license.factories import LicenseFactory
from cyclonedx.model import HashAlgorithm, HashType, Property
from cyclonedx.model.bom import Bom, BomMetaData
from cyclonedx.model.component import Component, ComponentScope, ComponentType
from cyclonedx.output.json import JsonV1Dot6
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
from packageurl import PackageURL


def main(target: str) -> None:
    """Write the file at `target`, if it is as the schema wants it."""
    made = datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), UTC)
    text = document(project(), [*locked(), *bundled()], made)
    if fault := JsonStrictValidator(SchemaVersion.V1_6).validate_str(text):
        raise SystemExit(f"The bill of materials breaks CycloneDX's schema: {fault}")
    Path(target).write_text(text + "\n", "utf-8", newline="\n")


def document(ours: Part, parts: list[Part], made: datetime) -> str:
    """The bill as JSON. Its serial number follows from all else in it, so that equal bills are one."""
    components = {part.ref: _component(part) for part in parts}
    root = _component(ours)
    root.type = ComponentType.APPLICATION
    bom = Bom(
        components=components.values(),
        metadata=BomMetaData(component=root, timestamp=made),
        serial_number=uuid.UUID(int=0),
    )
    for part, component in ((ours, root), *((part, components[part.ref]) for part in parts)):
        bom.register_dependency(component, [components[ref] for ref in sorted(part.needs)])
    bom.serial_number = uuid.uuid5(uuid.NAMESPACE_OID, JsonV1Dot6(bom).output_as_string())
    return JsonV1Dot6(bom).output_as_string(indent=2)


def _component(part: Part) -> Component:
    return Component(
        type=ComponentType.FILE if part.is_file else ComponentType.LIBRARY,
        bom_ref=part.ref,
        name=part.name,
        version=part.version,
        purl=None if part.is_file else PackageURL.from_string(part.ref),
        licenses=[LicenseFactory().make_from_string(part.licence)] if part.licence else [],
        hashes=[HashType(alg=HashAlgorithm(algorithm), content=value) for algorithm, value in part.hashes],
        scope=ComponentScope.EXCLUDED if part.build_only else ComponentScope.REQUIRED,
        properties=[Property(name="jambset:marker", value=part.marker)] if part.marker else [],
    )


main(*sys.argv[1:])
