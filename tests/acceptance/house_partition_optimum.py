"""The split of random walls against every legal split of each: the same best, and as many of them.

Run with ``python -m tests.acceptance.house_partition_optimum [WALLS]``: that many walls, 800 if left out. Prints every
wall on which the two differ and, last, how many agree; exits 1 on any difference, or where fewer than 500 walls
could be split.
"""

from __future__ import annotations

import sys

from tests.design.random_walls import disagreement, random_wall

LEAST = 500


def main(walls: int) -> int:
    """Compare and print."""
    agreed = tried = chosen = without = 0
    for seed in range(walls):
        words, legal = disagreement(random_wall(seed))
        if words:
            print(f"wall {seed}: {words}")
        agreed += not words
        without += not legal
        chosen += legal > 1
        tried += legal
    print(f"{tried} legal splits tried; {chosen} walls have more than one, {without} have none and say why")
    print(f"the split is the optimum, or rightly none, on {agreed} of {walls} random walls")
    return 0 if agreed == walls and walls - without >= LEAST else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 800))
