"""The JSON Schemas that come with the package, and a stricter reading of them for tests."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator
from referencing import Registry, Resource

import stunline

FOLDER = Path(stunline.__file__).parent / "tasks" / "schemas"
SCHEMAS: dict[str, dict[str, Any]] = {
    path.stem: json.loads(path.read_text(encoding="utf-8")) for path in FOLDER.glob("*.json")
}
_REGISTRY = Registry().with_resources(
    [(schema["$id"], Resource.from_contents(schema)) for schema in SCHEMAS.values()]
)


def faults(name: str, shape: Any, within: str = "") -> list[str]:
    """Where a shape is not as that schema, or the definition ``within`` it, promises."""
    reference = f"{name}.json{within and f'#/$defs/{within}'}"
    validator = Draft202012Validator({"$ref": reference}, registry=_REGISTRY)
    return [f"{error.json_path}: {error.message}" for error in validator.iter_errors(shape)]


def unlisted(shape: Any, schema: dict[str, Any], name: str, path: str = "$") -> list[str]:
    """Keys of a shape that its schema doesn't name: an addition must be promised as well."""
    if isinstance(shape, list):
        inner = schema.get("items", {})
        return [key for one in shape for key in unlisted(one, inner, name, f"{path}[]")]
    if not isinstance(shape, dict):
        return []
    schemas = list(_resolved(schema, name))
    listed = {key: (one, home) for found, home in schemas
              for key, one in found.get("properties", {}).items()}  # fmt: skip
    free = [(found["additionalProperties"], home) for found, home in schemas
            if "additionalProperties" in found]  # fmt: skip
    strange = []
    for key, value in shape.items():
        if key not in listed and not free:
            strange.append(f"{path}.{key}")
            continue
        inner, home = listed.get(key) or free[0]
        strange += unlisted(value, inner, home, f"{path}.{key}")
    return strange


def _resolved(schema: dict[str, Any], name: str) -> Any:
    """The schema, and those that it refers to or joins, each with the file that it stands in."""
    yield schema, name
    for joined in schema.get("allOf", []):
        yield from _resolved(joined, name)
    if "$ref" in schema:
        file, _, place = schema["$ref"].partition("#")
        home = file.removesuffix(".json") or name
        found = SCHEMAS[home]
        for step in filter(None, place.split("/")):
            found = found[step]
        yield from _resolved(found, home)
