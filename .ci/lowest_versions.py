"""Prints pyproject.toml's lower bounds as pip constraints: `numpy>=1.26` becomes `numpy==1.26`.

    python3 .ci/lowest_versions.py [extra ...] >constraints.txt

The dependencies always, and those of the extras named.
"""

import re
import sys
import tomllib
from pathlib import Path

PROJECT = Path(__file__).parents[1] / "pyproject.toml"
BOUND = re.compile(r"([\w.-]+)>=([\w.]+)")


def lowest(requirements: list[str]) -> list[str]:
    """Each requirement at its lower bound; a ValueError where one has none, since no step could try it."""
    found = {requirement: BOUND.fullmatch(requirement) for requirement in requirements}
    if without := [requirement for requirement, bound in found.items() if bound is None]:
        raise ValueError(f"no plain lower bound: {', '.join(without)}")
    return [f"{bound[1]}=={bound[2]}" for bound in found.values() if bound]


def main() -> None:
    project = tomllib.loads(PROJECT.read_text(encoding="utf-8"))["project"]
    extras = [project["optional-dependencies"][extra] for extra in sys.argv[1:]]
    print("\n".join(lowest(sum(extras, project["dependencies"]))))


if __name__ == "__main__":
    main()
