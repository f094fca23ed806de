"""Puts the schemas of a folder into one, for generators of types that follow no other references.

python3 tests/types/bundle.py cli/schema answer > answer.bundled.json
"""

import json
import re
import sys
from pathlib import Path


def bundled(folder: Path, main: str) -> dict:
    schemas = {name.name.split(".")[0]: json.loads(name.read_text(encoding="utf-8")) for name in folder.glob("*.json")}
    by_id = {schema["$id"]: stem for stem, schema in schemas.items()}

    def own(stem: str, name: str) -> str:
        return name if stem == main else f"{stem}_{name}"

    def here(node, stem: str):
        if isinstance(node, list):
            return [here(part, stem) for part in node]
        if not isinstance(node, dict):
            return node
        node = {key: here(part, stem) for key, part in node.items()}
        if isinstance(node.get("$ref"), str):
            schema, _, name = node["$ref"].partition("#/$defs/")
            node["$ref"] = "#/$defs/" + own(by_id[schema] if schema else stem, name)
        return node

    defs = {
        own(stem, name): here(part, stem) for stem, schema in sorted(schemas.items()) for name, part in schema["$defs"].items()
    }
    whole = here({key: part for key, part in schemas[main].items() if key != "$defs"}, main)
    used, found = {}, whole
    while found:
        names = set(re.findall(r'"#/\$defs/([^"]+)"', json.dumps(found))) - used.keys()
        found = {name: defs[name] for name in names}
        used.update(found)
    return {**whole, "$defs": {name: part for name, part in defs.items() if name in used}}


if __name__ == "__main__":
    json.dump(bundled(Path(sys.argv[1]), sys.argv[2]), sys.stdout, ensure_ascii=False, indent=2)
