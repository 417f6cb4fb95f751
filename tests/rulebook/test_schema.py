"""The schemas that editors use say the same as the reader, and every shipped file names its own."""

import json
import os
from pathlib import Path

import jsonschema
import pytest

from assistant.model.place import BadInput
from assistant.rulebook import read_document, schema_text, shipped_folder
from assistant.rulebook.checking import Checker
from assistant.rulebook.schema import SCHEMAS, schema_path

HERE = Path(__file__).parent
RULEBOOKS, SCENARIOS = shipped_folder("rulebooks"), shipped_folder("scenarios")
SHIPPED = sorted([*RULEBOOKS.rglob("*.yaml"), *SCENARIOS.rglob("*.yaml")])
OTHERS = sorted([*HERE.glob("whole/*.yaml"), *HERE.glob("broken/**/*.yaml")])


def kind_of(path: Path) -> str:
    if SCENARIOS.name in path.parts or path.name == "case.yaml":
        return "case"
    return "sources" if path.name == "sources.yaml" else "rulebook"


def validator(which: str) -> jsonschema.Draft7Validator:
    return jsonschema.Draft7Validator(json.loads(schema_text(which)))


@pytest.mark.parametrize("which", list(SCHEMAS))
def test_the_committed_schema_is_the_one_the_grammar_gives(which: str) -> None:
    committed = schema_path(which).read_text(encoding="utf-8")
    assert committed == schema_text(which), "run: digday rulebook schema --write"


@pytest.mark.parametrize("which", list(SCHEMAS))
def test_the_schema_is_a_valid_draft_07_schema(which: str) -> None:
    schema = json.loads(schema_text(which))
    assert schema["$schema"] == "http://json-schema.org/draft-07/schema#"
    assert schema["$id"]
    assert schema["title"]
    jsonschema.Draft7Validator.check_schema(schema)


@pytest.mark.parametrize("which", list(SCHEMAS))
def test_every_key_explains_itself(which: str) -> None:
    assert silent_keys(json.loads(schema_text(which)), which) == []


def silent_keys(schema: object, path: str) -> list[str]:
    """The keys without a hover text, in every part that lists all keys of a mapping."""
    if isinstance(schema, list):
        return [silent for part in schema for silent in silent_keys(part, path)]
    if not isinstance(schema, dict):
        return []
    keys = schema["properties"] if "additionalProperties" in schema and "properties" in schema else {}
    here = [f"{path}.{name}" for name, key in keys.items() if not key.get("description", "").endswith(".")]
    return here + [silent for name, part in schema.items() for silent in silent_keys(part, f"{path}.{name}")]


def test_there_are_shipped_files() -> None:
    assert any(path.is_relative_to(RULEBOOKS) for path in SHIPPED)
    assert any(path.is_relative_to(SCENARIOS) for path in SHIPPED)
    assert OTHERS


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: "/".join(path.parts[-3:]))
def test_every_shipped_file_is_valid_under_its_schema(path: Path) -> None:
    errors = [error.message for error in validator(kind_of(path)).iter_errors(read_document(path).data)]
    assert errors == []


@pytest.mark.parametrize("path", SHIPPED + OTHERS, ids=lambda path: "/".join(path.parts[-3:]))
def test_the_first_line_of_every_file_names_its_schema(path: Path) -> None:
    marker, _, named = path.read_text(encoding="utf-8").splitlines()[0].partition("$schema=")
    assert marker == "# yaml-language-server: "
    relative = os.path.relpath(schema_path(kind_of(path)), path.parent)
    assert named == relative.replace(os.sep, "/")


@pytest.mark.parametrize("path", SHIPPED + OTHERS, ids=lambda path: "/".join(path.parts[-3:]))
def test_the_schema_accepts_a_file_exactly_when_the_reader_accepts_its_shape(path: Path) -> None:
    try:
        document = read_document(path)
    except BadInput:
        return  # no plain values to hold against a schema
    checker = Checker(document)
    checker.check(document.root, SCHEMAS[kind_of(path)][1], "The file")
    errors = [error.message for error in validator(kind_of(path)).iter_errors(document.data)]
    assert bool(checker.problems) == bool(errors), (checker.problems, errors)
