"""JSON Schema (draft-07) for editors, generated from the grammar that the reader itself checks with."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from assistant.rulebook.case_grammar import CASE, SOURCES_FILE
from assistant.rulebook.grammar import RULEBOOK, named
from assistant.rulebook.shapes import Either, Form, ListOf, Named, Names, Number, Record, Shape, Text, Value
from assistant.rulebook.shipped import shipped_folder

Schema = dict[str, Any]

DRAFT = "http://json-schema.org/draft-07/schema#"
NAMES = ("condition", "changes", "silences")  # the shapes that the grammar declares under a name
SCHEMAS: Mapping[str, tuple[str, Record]] = {
    "rulebook": ("A rulebook of digday", RULEBOOK),
    "sources": ("The sources of a crop's rulebooks", SOURCES_FILE),
    "case": ("A case or scenario for digday", CASE),
}


def schema_text(which: str) -> str:
    """The schema of `rulebook`, `sources` or `case` files as JSON text."""
    title, shape = SCHEMAS[which]
    head: Schema = {"$schema": DRAFT, "$id": f"urn:digday:schema:{which}", "title": title}
    declared = {"definitions": {name: _schema(named(name)) for name in NAMES}} if which == "rulebook" else {}
    return json.dumps({**head, **_schema(shape), **declared}, indent=2, ensure_ascii=False) + "\n"


def schema_path(which: str) -> Path:
    """Where the schema lies beside the rulebooks."""
    return shipped_folder("rulebooks") / "_schema" / f"{which}.json"


def write_schemas() -> tuple[Path, ...]:
    """Write all schemas beside the rulebooks, and say where."""
    paths = tuple(schema_path(which) for which in SCHEMAS)
    for which, path in zip(SCHEMAS, paths, strict=True):
        path.parent.mkdir(exist_ok=True)
        path.write_text(schema_text(which), encoding="utf-8")
    return paths


def _schema(shape: Shape) -> Schema:
    match shape:
        case Text():
            return _text(shape)
        case Number():
            low = {} if shape.least is None else {"minimum": shape.least}
            high = {} if shape.most is None else {"maximum": shape.most}
            return {"type": "integer" if shape.whole else "number", **low, **high}
        case Value():
            return {"type": ["string", "number"], **_pattern(shape.pattern), **_examples(shape.example)}
        case ListOf():
            return {"type": "array", "items": _schema(shape.item), "minItems": shape.least}
        case Names():
            return _names(shape)
        case Record():
            return _record(shape)
        case Either():
            return {"anyOf": [_schema(option) for option in shape.options]}
        case Named():
            return {"$ref": f"#/definitions/{shape.name}"}


def _text(shape: Text) -> Schema:
    if not shape.words:
        return {"type": "string", "pattern": shape.pattern or r"\S", **_examples(shape.example)}
    return {"oneOf": [{"const": word, "description": says} for word, says in shape.words.items()]}


def _pattern(pattern: str) -> Schema:
    return {"pattern": pattern} if pattern else {}


def _examples(example: str) -> Schema:
    return {"examples": [example]} if example else {}


def _names(shape: Names) -> Schema:
    most = {} if shape.most is None else {"maxProperties": shape.most}
    return {
        "type": "object",
        "propertyNames": {"pattern": shape.pattern},
        "additionalProperties": _schema(shape.item),
        "minProperties": shape.least,
        **most,
    }


def _record(shape: Record) -> Schema:
    properties = {name: _described(key.says, _schema(key.shape)) for name, key in shape.keys.items()}
    others = _described(shape.others.says, _schema(shape.others.shape)) if shape.others else False
    schema: Schema = {"type": "object", "properties": properties, "additionalProperties": others}
    required = [name for name, key in shape.keys.items() if key.required]
    if required:
        schema["required"] = required
    if shape.needs:
        schema["dependencies"] = {owner: list(needed) for owner, needed in shape.needs.items()}
    if shape.least:
        schema["minProperties"] = shape.least
    if shape.by:
        schema["allOf"] = [_when(shape, word, form) for word, form in shape.forms.items()]
    elif shape.forms:
        schema["anyOf"] = [_form(shape, form) for form in shape.forms.values()]
    return schema


def _described(says: str, schema: Schema) -> Schema:
    """A schema with its hover text; draft-07 ignores what stands beside a $ref, so that is wrapped."""
    if "$ref" in schema:
        return {"description": says, "allOf": [schema]}
    return {"description": says, **schema}


def _form(shape: Record, form: Form) -> Schema:
    """The keys of one form are there, and none of another form's."""
    every = {name for each in shape.forms.values() for name in (*each.required, *each.optional)}
    barred = sorted(every - {*form.required, *form.optional})
    schema: Schema = {"properties": {name: False for name in barred}}
    if form.required:
        schema["required"] = list(form.required)
    return schema


def _when(shape: Record, word: str, form: Form) -> Schema:
    """The form that goes with one value of the telling key."""
    chosen = {"properties": {shape.by: {"const": word}}, "required": [shape.by]}
    return {"if": chosen, "then": _form(shape, form)}
