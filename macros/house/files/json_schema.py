"""The JSON Schema of a house file, for editors, in the words of the starter house. `python -m macros.house.files.json_schema` writes it anew; a test keeps it current."""

from __future__ import annotations

import json
from pathlib import Path

from macros.house.files.starter_explanations import explanations
from macros.house.records.house import House

FILE = Path(__file__).parent / "schema.json"


def schema_text() -> str:
    """The schema as JSON text. No section is demanded, for a section may stand in another file of the house."""
    schema = House.model_json_schema(by_alias=True)
    schema.pop("required", None)
    records = {House.__name__: schema, **schema["$defs"]}
    for (record, field), words in explanations().items():
        told = records[record]["properties"][field]
        told["description"] = f"{words} {told.get('description', '')}".strip()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "Facts of a grow room"
    return json.dumps(schema, indent=1, sort_keys=True) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema_text(), encoding="utf-8")
