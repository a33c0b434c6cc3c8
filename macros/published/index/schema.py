"""The JSON Schema of each published file, for editors. `python -m macros.published.index.schema` writes them anew; a test keeps them current."""

from __future__ import annotations

import json
from pathlib import Path

from macros.published import source_of
from macros.published.index.topics import OF_ROWS, TOPICS

FOLDER = Path(__file__).parents[1] / "schemas"


def schema_text(topic: str) -> str:
    """The schema of the file of a topic as JSON text."""
    schema = TOPICS[topic].model_json_schema(by_alias=True)
    if topic in OF_ROWS:
        definitions = schema.pop("$defs", {})
        rows = {"items": schema, "additionalProperties": schema, "type": ["array", "object"]}
        schema = {"$defs": definitions, **rows}
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = source_of(topic).file
    return json.dumps(schema, indent=1, sort_keys=True) + "\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for topic in TOPICS:
        (FOLDER / f"{topic}.json").write_text(schema_text(topic), encoding="utf-8")
