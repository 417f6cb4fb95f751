"""Plain values -> YAML that this program reads back as the same values."""

from __future__ import annotations

from typing import Any

import yaml

from assistant.rulebook.names import escaped, is_unsafe
from assistant.rulebook.nodes import Plain, scalar

WIDTH = 100  # columns before long text is folded


class _Dumper(yaml.SafeDumper):
    """Writes no aliases and quotes just the text that would be read as something else."""

    yaml_implicit_resolvers: dict[str, Any] = {}

    def ignore_aliases(self, data: object) -> bool:
        return True

    def resolve(self, kind: type[yaml.Node], value: str, implicit: tuple[bool, bool]) -> str:
        """The tag that our own reader would give a plain scalar."""
        if kind is yaml.ScalarNode and implicit[0]:
            return _TAGS[type(scalar(value))]
        return _COLLECTIONS.get(kind, _TAGS[str])

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:
        super().increase_indent(flow, False)


_COLLECTIONS: dict[type, str] = {yaml.SequenceNode: "tag:yaml.org,2002:seq", yaml.MappingNode: "tag:yaml.org,2002:map"}
_TAGS: dict[type, str] = {
    str: "tag:yaml.org,2002:str",
    int: "tag:yaml.org,2002:int",
    float: "tag:yaml.org,2002:float",
    bool: "tag:yaml.org,2002:bool",
    type(None): "tag:yaml.org,2002:null",
}


def _float(dumper: _Dumper, value: float) -> yaml.ScalarNode:
    text = f"{value:.10f}".rstrip("0")
    return dumper.represent_scalar(_TAGS[float], f"{text}0" if text.endswith(".") else text)


def _text(dumper: _Dumper, value: str) -> yaml.ScalarNode:
    """Only double quotes can hold what is to be escaped."""
    return dumper.represent_scalar(_TAGS[str], value, '"' if is_unsafe(value) else None)


_Dumper.add_representer(float, _float)
_Dumper.add_representer(str, _text)


def dump_yaml(data: Plain) -> str:
    """The values in plain block style, keys in their order; nothing in them steers a terminal."""
    return escaped(
        yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=WIDTH, default_flow_style=False)
    )
