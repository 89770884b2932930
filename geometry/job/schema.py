"""The job file as a JSON Schema (draft 2020-12): every key with its meaning, unit, default and all forms a value may take.

Terms
-----
x-unit
    The unit of a bare number.
x-left-out
    What holds where the key is left out and no plain default says it: "worked out", "left out", or the default in words.

TOML has dates and times, JSON has none: in JSON they are texts (``2026-03-02``, ``08:00:00``). A schema cannot tell the bounds of a
text with a unit, nor what several keys must be to each other beyond what stands here; the reading of a job file judges those.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaMode, JsonSchemaValue

from geometry.job.model import Job

if TYPE_CHECKING:
    from pydantic_core import CoreSchema

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class JobSchema(GenerateJsonSchema):
    """The generator with what TOML asks for: no null, defaults in words where they are worked out."""

    def generate(self, schema: CoreSchema, mode: JsonSchemaMode = "validation") -> JsonSchemaValue:
        """The whole schema, its fields told in our words."""
        found: JsonSchemaValue = _told(super().generate(schema, mode))
        return {"$schema": DIALECT, "title": "Job file of fritline", **found}

    def dict_schema(self, schema: Any) -> JsonSchemaValue:
        """A table of free or listed names: a list of names is told as well."""
        found = super().dict_schema(schema)
        names = self.generate_inner(schema["keys_schema"]) if "keys_schema" in schema else {}
        return found | ({"propertyNames": names} if "enum" in names else {})

    def nullable_schema(self, schema: Any) -> JsonSchemaValue:
        """A key that may be left out; TOML has no null to type in its place."""
        return self.generate_inner(schema["schema"])

    def field_title_should_be_set(self, schema: Any) -> bool:
        """A key is its own title."""
        return False


def job_schema() -> dict[str, Any]:
    """The schema of a job file."""
    return Job.model_json_schema()


def as_json() -> str:
    """The schema as text, in a fixed order."""
    return json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n"


def _told(part: Any) -> Any:
    if isinstance(part, list):
        return [_told(each) for each in part]
    if not isinstance(part, dict):
        return part
    found = {name: _told(each) for name, each in part.items()}
    if {"absent", "shown_default"} <= found.keys():  # a field, as ``setting`` marks it
        absent, shown = found.pop("absent"), found.pop("shown_default")
        default = found.get("default")
        if shown or default in (None, ""):
            found.pop("default", None)
            if shown or absent:
                found["x-left-out"] = shown or absent
        elif isinstance(default, dict):
            del found["default"]  # a table of defaults: they stand with its own keys
    return found


__all__ = ["JobSchema", "as_json", "job_schema"]
