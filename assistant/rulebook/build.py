"""Files -> Rulebook: every file is read and held against its shape, then what they say against each other."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from assistant.model.place import BadInput, Place, Problem
from assistant.model.rules import Rulebook, Several
from assistant.rulebook.case_grammar import SOURCES_FILE
from assistant.rulebook.checking import Checker
from assistant.rulebook.directions import build_directions
from assistant.rulebook.documents import Document, load
from assistant.rulebook.grammar import RULEBOOK
from assistant.rulebook.grammar_words import FORMAT
from assistant.rulebook.measures import build_measures
from assistant.rulebook.rules import (
    build_advice,
    build_cautions,
    build_disagreements,
    build_findings,
    build_rules,
    build_silenced,
    build_sources,
    check_circles,
    check_findings,
)
from assistant.rulebook.shipped import SOURCES_NAME, misnamed_files, rulebook_files, rulebook_folder
from assistant.rulebook.signs import build_signs, build_tables
from assistant.rulebook.sizes import check_conditions, check_declared, check_files
from assistant.rulebook.view import Report, View
from assistant.rulebook.vocabulary import Vocabulary


class Layer(NamedTuple):
    """The checked files of one folder: of the rulebook itself, or of one it builds on.

    Where it is not `legible`, its problems leave nothing more to say.
    """

    folder: Path
    views: list[View]
    report: Report
    legible: bool


def read_rulebook(name: str) -> Rulebook:
    """The rulebook of that shipped name, or in that folder. Raises `BadInput` with every problem."""
    rulebook, problems = build(rulebook_folder(name))
    if rulebook is None:
        raise BadInput(problems)
    return rulebook


def check_rulebook(name: str) -> tuple[Problem, ...]:
    """Every problem of a rulebook, sorted by place; none when it can be used."""
    try:
        return build(rulebook_folder(name))[1]
    except BadInput as error:
        return error.problems


def build(folder: Path) -> tuple[Rulebook | None, tuple[Problem, ...]]:
    """The rulebook of a folder and all its problems, sorted; with problems there is no rulebook.

    Where the one it builds on has problems of its own, only those are told.
    """
    layers = _layers(folder)
    if not layers[0].legible:
        return None, _sorted(layers[0].report.problems)
    rulebook = _assemble(layers)
    problems = [problem for layer in layers for problem in layer.report.problems]
    if problems and len(layers) > 1:
        problems = list(build(layers[-2].folder)[1]) or problems
    return (None if problems else rulebook), _sorted(problems)


def _layers(folder: Path) -> list[Layer]:
    """The files of a rulebook after those of the rulebooks it builds on, the lowest first."""
    layers = [_layer(folder, [])]
    while layers[0].legible and (named := _builds_on(layers[0])) is not None:
        from assistant.rulebook.bases import base_folder  # few rulebooks build on another

        below = base_folder(named, [layer.folder for layer in layers])
        if below is None:
            layers[0] = layers[0]._replace(legible=False)
        else:
            layers.insert(0, _layer(below, layers))
    return layers


def _builds_on(layer: Layer) -> View | None:
    return next((named for view in layer.views if (named := view.get("builds_on")) is not None), None)


def _layer(folder: Path, above: Sequence[Layer]) -> Layer:
    """One folder, read and held against its shapes; a file that layers above share is not read again."""
    paths = rulebook_files(folder)
    check_files(paths)
    shared = _shared(paths, above)
    documents, problems = _read_all([path for path in paths if path not in shared])
    newer = [problem for document in documents for problem in _newer(document)]
    if newer:
        return Layer(folder, [], Report(newer), False)
    report = Report([*problems, *misnamed_files(folder)])
    views = [View(document, document.root, report) for document in documents]
    for view in views:
        _check_shape(view)
    legible = len(views) + len(shared) == len(paths)  # a file that cannot be read may declare any name
    return Layer(folder, [*views, *shared.values()], report, legible)


def _shared(paths: Sequence[Path], above: Sequence[Layer]) -> dict[Path, View]:
    """The files that a layer above has read already, such as the sources of the crop."""
    read = {os.path.realpath(view.document.file): view for layer in above for view in layer.views}
    return {path: view for path in paths if read and (view := read.get(os.path.realpath(path))) is not None}


def _sorted(problems: Sequence[Problem]) -> tuple[Problem, ...]:
    return tuple(sorted(problems, key=lambda problem: (problem.place, problem.code, problem.message)))


def _read_all(paths: Sequence[Path]) -> tuple[list[Document], list[Problem]]:
    documents: list[Document] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            document, found = load(path)
        except BadInput as error:
            problems += error.problems
        else:
            documents.append(document)
            problems += found
    return documents, problems


def _newer(document: Document) -> Iterator[Problem]:
    """The one problem of a rulebook written for a later program: its other oddities may well be right."""
    node = (document.root.entries or {}).get("format")
    if node is not None and isinstance(node.value, int) and node.value > FORMAT:
        message = f"This rulebook needs a newer digday: its format is {node.value}, and this one reads {FORMAT}."
        yield document.problem("newer-format", document.at(node), message, "Update digday.")


def _check_shape(view: View) -> None:
    is_sources = Path(view.document.file).name == SOURCES_NAME
    checker = Checker(view.document, view.report.problems, view.report.broken)
    checker.check(view.node, SOURCES_FILE if is_sources else RULEBOOK, "The file")


def _assemble(layers: Sequence[Layer]) -> Rulebook:
    words = _vocabulary(layers)
    check_declared(words)
    headings, several = [_heading(layer) for layer in layers], _several(layers)
    heading = headings[-1]
    for step in (
        build_sources,
        build_disagreements,
        build_tables,
        build_signs,
        build_measures,
        build_findings,
        build_advice,
        build_directions,
        build_silenced,
    ):
        step(words)
    rules, cautions = build_rules(words), build_cautions(words)
    check_findings(rules, cautions, words)
    check_circles(rules, words)
    if not any(layer.report.problems for layer in layers):
        check_conditions([*rules, *cautions.values()], words)
    return Rulebook(
        name=heading.text("rulebook"),
        title=heading.text("title"),
        version=heading.text("version"),
        about=heading.text("about"),
        signs=words.signs,
        measures=words.measures,
        tables=words.tables,
        findings=words.findings,
        advice=words.advice,
        several=several,
        rules=rules,
        cautions=cautions,
        disagreements=words.disagreements,
        sources=words.sources,
        directions=words.directions,
        builds_on=headings[-2].text("rulebook") if len(layers) > 1 else "",
        silenced=words.silenced,
        raw=_raw(layers),
        place=heading.place,
    )


def _raw(layers: Sequence[Layer]) -> tuple[bytes, ...]:
    """The bytes of every file, those that layers share once."""
    documents = dict.fromkeys(view.document for layer in layers for view in layer.views)
    return tuple(document.raw for document in documents)


def _vocabulary(layers: Sequence[Layer]) -> Vocabulary:
    words = Vocabulary()
    for view in layers[0].views:
        _without_base(view)
        words.take_up(view)
    for number, layer in enumerate(layers[1:], start=1):
        from assistant.rulebook.bases import lay_over  # few rulebooks build on another

        shared = [below.views for below in layers[:number]]
        lay_over(words, [view for view in layer.views if not any(view in views for views in shared)])
    return words


def _without_base(view: View) -> None:
    """Changes and silences need something that they change or silence."""
    for key in ("changes", "silences"):
        entry = view.within(key)
        if entry is not None:
            message = f"Nothing says which rulebook these {key} are for."
            entry.note("missing-key", message, "Add builds_on: NAME beside the rulebook's own name.", at_key=True)


def _heading(layer: Layer) -> View:
    """The file with the rulebook's name; a rulebook has exactly one."""
    headings = [view for view in layer.views if view.has("rulebook")]
    for extra in headings[1:]:
        name = extra.within("rulebook")
        assert name is not None
        message = f"The rulebook's name stands here a second time; the first is in {headings[0].document.file}."
        name.note("duplicate-key", message, "Delete the heading of one of the files.", at_key=True)
    if not headings:
        hint = "Add rulebook, title, version, format and about to one of its files."
        where = Place(str(layer.folder))
        layer.report.problems.append(Problem("no-heading", where, "No file of this folder names the rulebook.", hint))
    return headings[0] if headings else layer.views[0]


def _several(layers: Sequence[Layer]) -> Several:
    """What several pieces of advice mean; a rulebook says so in one place, or leaves it to the one it builds on."""
    views = [view for layer in layers for view in layer.views]
    sections = [advice for view in views if (advice := view.within("advice")) is not None]
    for extra in sections[1:]:
        message = f"The advice stands here a second time; the first is at {sections[0].place}."
        hint = "Move all kinds of advice into one file, in the order in which they win."
        if extra.report is not sections[0].report:
            hint = "Delete it: the kinds of advice stay those of the rulebook built on."
        extra.note("duplicate-key", message, hint, at_key=True)
    if not sections:
        heading = views[0]
        heading.note(
            "missing-key",
            "No file of this rulebook lists its kinds of advice.",
            "Add advice: {several: …, kinds: {…}}.",
        )
    said = sections[0].text("several") if sections else ""
    return Several(said) if said else Several.MUST_AGREE
