"""A picture beside each written design, as the samples have them.

python -m cage3d.draw.beside samples/*.yaml
"""

from __future__ import annotations

import sys
from pathlib import Path

from cage3d.design.read import read
from cage3d.draw.pictures import draw_pair
from cage3d.report import measure, with_certainty
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.files import write_whole


def picture_beside(path: Path) -> Path:
    """Draws the design of a YAML file into a PNG of the same name. Raises CageError."""
    settled = settle(lay_out(read(path)))
    return write_whole(
        path.with_suffix(".png"), draw_pair(settled, with_certainty(measure(settled), settled))
    )


if __name__ == "__main__":
    for name in sys.argv[1:]:
        picture_beside(Path(name))
