"""Places on a cage in a maker's words."""

from __future__ import annotations

import numpy as np

from cage3d.shape.cage import Connectivity


def node_in_words(joined: Connectivity, node: int) -> str:
    """'hoop 3 at tape 4', 'hoop 3 between tapes 4 and 5', 'hoop 1 beyond tape 8', 'the waistband at tape 2'."""
    if node in joined.anchors:
        return f"the waistband at tape {int(np.flatnonzero(joined.anchors == node)[0]) + 1}"
    hoop = next(h for h, nodes in enumerate(joined.hoop_nodes) if nodes[0] <= node <= nodes[-1])
    crossing = joined.crossing[hoop]
    if node in crossing:
        return f"hoop {hoop + 1} at tape {int(np.flatnonzero(crossing == node)[0]) + 1}"
    order = np.argsort(crossing)[np.count_nonzero(crossing < 0) :]
    before = int(np.searchsorted(crossing[order], node)) - 1
    after = before + 1
    if joined.closed[hoop]:
        pair = (order[before] + 1, order[after % len(order)] + 1)
        return f"hoop {hoop + 1} between tapes {pair[0]} and {pair[1]}"
    if before < 0 or after >= len(order):
        return f"hoop {hoop + 1} beyond tape {order[max(before, 0)] + 1}"
    return f"hoop {hoop + 1} between tapes {order[before] + 1} and {order[after] + 1}"
