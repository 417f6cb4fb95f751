"""A rulebook on top of the one it builds on: finding that one, and laying changes and additions over it."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from assistant.model.place import BadInput
from assistant.rulebook.grammar import SIGN
from assistant.rulebook.names import instead, near, quoted
from assistant.rulebook.shipped import rulebook_folder, shipped_rulebooks
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary

HIGHEST = 8  # how many rulebooks may stand on each other


class Laid(View):
    """An entry laid over one below: `parts` are its own keys and, for the rest, those below."""

    def __init__(self, view: View, parts: Mapping[str, View]) -> None:
        super().__init__(view.document, view.node, view.report)
        self.parts = parts

    def entries(self) -> Iterator[tuple[str, View]]:
        """The keys of both and their values."""
        yield from self.parts.items()

    def get(self, key: str) -> View | None:
        """The value of a key; None where it is missing or its shape is wrong."""
        part = self.parts.get(key)
        return part if part is not None and part.whole else None

    def within(self, key: str) -> View | None:
        """The value of a key even where something in it has a wrong shape."""
        return self.parts.get(key)

    def has(self, key: str) -> bool:
        """Whether the key is there, whole or not."""
        return key in self.parts


def base_folder(named: View, above: Sequence[Path]) -> Path | None:
    """The folder of the rulebook that another builds on; None, with the problem noted, where there is none to use.

    `above` are the folders of the rulebooks that build on it, the nearest first.
    """
    try:
        folder = Path(os.path.normpath(rulebook_folder(named.written, beside=above[0])))
    except BadInput:
        meant = near(named.written, shipped_rulebooks())
        hint = f"Did you mean {quoted(meant)}?" if meant else "Name one that ships, or a path from this folder."
        named.note("unknown-base", f"There is no rulebook {quoted(named.written)} to build on.", hint)
        return None
    if any(os.path.samefile(folder, each) for each in above):
        named.note("circular-bases", "With this the rulebook would build on itself.", "Build on another, or on none.")
    elif len(above) >= HIGHEST:
        message = f"More than {HIGHEST} rulebooks would stand on each other here."
        named.note("too-deep", message, "Build on one further down.")
    else:
        return folder
    return None


def lay_over(words: Vocabulary, views: Sequence[View]) -> None:
    """Lay the files of a rulebook over all that the rulebooks below declare."""
    for section in ("rules", "signs"):
        for changes in _sections(views, section):
            _change(words.declared[section], changes.entries(), section, words)
    for tables in _sections(views, "tables"):
        _change_tables(words, tables)
    for view in views:
        silences = view.within("silences")
        for name, reason in silences.entries() if silences else ():
            _silence(words, name, reason)
        words.take_up(view)


def _sections(views: Sequence[View], section: str) -> Iterator[View]:
    """What each file changes in a section."""
    for view in views:
        changes = view.within("changes")
        entries = changes.within(section) if changes else None
        if entries is not None:
            yield entries


def _change(entries: dict[str, View], changes: Iterable[tuple[str, View]], section: str, words: Vocabulary) -> None:
    """Lay each change over the entry of its name."""
    for name, change in changes:
        if _is_free(entries, name, change, section, words):
            below = entries[name]
            if section == "signs":
                _check_kind(name, change, below.text("kind"))
            if not {key for key, _ in change.entries()} - {"because", "sources"}:
                message = f"{quoted(name)} has a reason to be changed, but no change."
                change.note("too-few", message, "Add the keys that are otherwise here.", at_key=True)
            entries[name] = _laid(change, dict(change.entries()), below)


def _laid(view: View, parts: Mapping[str, View], below: View) -> Laid:
    return Laid(view, {**dict(below.entries()), **parts})


def _change_tables(words: Vocabulary, tables: View) -> None:
    """Lay changed rows over those of their names; a row with a name of its own is added."""
    declared = words.declared["tables"]
    for name, changes in tables.entries():
        if not words.knows("tables", name, changes, at_key=True):
            continue
        rows = dict(declared[name].entries())
        added = {row: change for row, change in changes.entries() if row not in rows and change.has("named")}
        _change(rows, [item for item in changes.entries() if item[0] not in added], "table rows", words)
        declared[name] = _laid(declared[name], rows | added, declared[name])


def _silence(words: Vocabulary, name: str, reason: View) -> None:
    rules = words.declared["rules"]
    if _is_free(rules, name, reason, "rules", words):
        words.declared["silences"][name] = reason
        del rules[name]


def _is_free(entries: Mapping[str, View], name: str, view: View, section: str, words: Vocabulary) -> bool:
    """Whether an entry is there to be changed or silenced, and this rulebook has done neither yet."""
    noun = section[:-1]
    silenced = words.declared["silences"].get(name) if section == "rules" else None
    below = silenced or entries.get(name)
    if below is None:
        message = f"The rulebook built on has no {noun} called {quoted(name)}."
        view.note(f"unknown-{noun.split()[-1]}", message, instead(name, entries) or "Delete it.", at_key=True)
    elif silenced or below.report is view.report:
        message = f"The {noun} {quoted(name)} is {'silenced' if silenced else 'changed'} already, at {below.place}."
        view.note("duplicate-name", message, "Keep one of the two.", at_key=True)
    else:
        return True
    return False


def _check_kind(name: str, change: View, kind: str) -> None:
    """A change may give a sign only keys that go with its kind."""
    form = SIGN.forms[kind]
    ruled = {key for each in SIGN.forms.values() for key in (*each.required, *each.optional)}
    for key, value in change.entries():
        if key in ruled - {*form.required, *form.optional}:
            message = f"{quoted(name)} has the key {quoted(key)}, which does not go with {quoted(kind)}."
            value.note("mixed-kinds", message, f"Delete {key}.", at_key=True)
