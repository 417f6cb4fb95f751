"""The verdict as JSON, key by key as other programs read it."""

from __future__ import annotations

from datetime import date
from typing import Any

from assistant.explain.evidence import cautions, disagreements, sources
from assistant.model.derivation import Change, Derivation, Verdict
from assistant.model.rules import ADVICE


def verdict_json(verdict: Verdict) -> dict[str, Any]:
    """The verdict as plain data; dates are ISO 8601, an absent day is null."""
    derivation = verdict.derivation
    return {
        "case": verdict.title,
        "rulebook": {
            "name": derivation.rulebook.name,
            "version": derivation.rulebook.version,
            "digest": derivation.rulebook.digest,
        },
        "on": _iso(verdict.on),
        "outcome": verdict.outcome.value,
        "advice": verdict.advice,
        "headline": verdict.headline,
        "act_by": _iso(verdict.act_by),
        "look_again": _iso(verdict.look_again),
        "findings": _findings(derivation),
        "fired": list(derivation.fired),
        "decided_by": list(verdict.decided_by),
        "would_change": list(map(_change, verdict.would_change)),
        "joint_change": list(map(_change, verdict.joint_change)),
        "cautions": [{"id": caution.name, "text": caution.text} for caution in cautions(derivation)],
        "disagreements": _disagreements(derivation),
        "sources": [
            {"id": source.id, "title": source.title, "year": source.year, "how": source.how.value}
            for source in sources(derivation)
        ],
        "questions_left": list(verdict.questions_left),
        "conflicts": [{"about": found.about, "values": list(found.values)} for found in derivation.conflicts],
    }


def _change(change: Change) -> dict[str, str | None]:
    return {
        "sign": change.sign,
        "from": change.before,
        "to": change.after,
        "then": change.then,
        "headline": change.headline,
    }


def _findings(derivation: Derivation) -> list[dict[str, str]]:
    return [
        {"finding": firing.rule.concludes, "value": firing.rule.value, "rule": firing.rule.name}
        for firing in derivation.firings
        if firing.rule.concludes != ADVICE
    ]


def _disagreements(derivation: Derivation) -> list[dict[str, Any]]:
    return [
        {
            "id": found.name,
            "about": found.about,
            "sides": [{"says": side.says, "sources": list(side.sources)} for side in found.sides],
            "taken": found.taken,
        }
        for found in disagreements(derivation)
    ]


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
