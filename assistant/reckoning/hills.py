"""Hills as a grower enters them: roots measured or weighed, or only sorted into small, right and big."""

from __future__ import annotations

from typing import NamedTuple

from assistant.reckoning.yields import Root, root_diameter


class Classes(NamedTuple):
    """How many roots of a hill are smaller than wanted, as wanted, and bigger."""

    small: int = 0
    right: int = 0
    big: int = 0


class Hill(NamedTuple):
    """One plant dug up: its roots, or their numbers by size class when nobody measured."""

    name: str
    roots: tuple[Root, ...] = ()
    classes: Classes | None = None

    @property
    def size(self) -> int:
        """How many roots it has."""
        return len(self.roots) if self.classes is None else sum(self.classes)

    @property
    def diameters(self) -> tuple[float, ...]:
        """The diameters (in) of its roots; of those that were only weighed, by their weight."""
        return tuple(map(diameter_of, self.roots))


def diameter_of(root: Root) -> float:
    """A root's diameter (in), measured or reckoned from its weight."""
    if root.diameter is not None:
        return root.diameter
    assert root.grams is not None, "a root is measured or weighed"
    return root_diameter(root.grams)
