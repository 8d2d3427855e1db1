"""The split of random walls, decks and roof planes against every legal split of each: the same best, and as many.

Run with ``python -m tests.acceptance.house_partition_optimum [COUNT]``: that many of each kind, 900 if left out. Prints
every one on which the two differ, then how many there were of each kind and, last, how many agree; exits 1 on any
difference, or where fewer than 500 of a kind could be split.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from itertools import count, islice

from tests.design.floors.random_fields import field_disagreement, random_field
from tests.design.random_walls import disagreement, random_wall
from tests.design.roofs.random_planes import plane_disagreements, random_roof

LEAST = 500


def walls() -> Iterator[tuple[str, str, int]]:
    """Random walls without end: a name, what is wrong with the split, and how many legal splits there are."""
    for seed in count():
        yield f"wall {seed}", *disagreement(random_wall(seed))


def decks() -> Iterator[tuple[str, str, int]]:
    """Random floors, likewise."""
    for seed in count():
        yield f"deck {seed}", *field_disagreement(random_field(seed))


def planes() -> Iterator[tuple[str, str, int]]:
    """The planes of random roofs, likewise."""
    for seed in count():
        for name, words, legal in plane_disagreements(random_roof(seed)):
            yield f"roof {seed} {name}", words, legal


def main(number: int) -> int:
    """Compare and print."""
    figures = []
    failed = False
    for kind, found in (("walls", walls()), ("decks", decks()), ("roof planes", planes())):
        agreed = tried = chosen = without = 0
        for name, words, legal in islice(found, number):
            if words:
                print(f"{name}: {words}")
            agreed += not words
            without += not legal
            chosen += legal > 1
            tried += legal
        print(f"{kind}: {tried} legal splits tried; {chosen} have more than one, {without} have none and say why")
        figures.append(f"{agreed} of {number} {kind}")
        failed |= agreed < number or number - without < LEAST
    print(f"the split is the optimum, or rightly none, on {', '.join(figures)}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 900))
