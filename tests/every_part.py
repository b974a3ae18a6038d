"""Everything that `make` writes but the pictures, of some samples, in a process of its own.

    python tests/every_part.py FOLDER NODES SAMPLE...

NODES: of a hoop; 0 for the tool's own resolution, and then the capacity too.
"""

from __future__ import annotations

import sys
from pathlib import Path

from cage3d import results
from cage3d.design.read import read
from cage3d.flow import foretold
from cage3d.report import with_capacity
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


def write_every_part(folder: Path, nodes: int, sample: Path) -> None:
    cage = lay_out(read(sample), nodes) if nodes else lay_out(read(sample))
    settled = settle(cage)
    report = foretold(settled)
    report = report if nodes else with_capacity(report, settled)
    for part in results.RESULTS:
        if part.name == "pictures":
            continue
        for name, data in part.files(settled, report).items():
            path = folder / sample.stem / name.replace("{stem}", "cage")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)


if __name__ == "__main__":
    for written in sys.argv[3:]:
        write_every_part(Path(sys.argv[1]), int(sys.argv[2]), Path(written))
