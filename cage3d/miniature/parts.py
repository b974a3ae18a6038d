"""Every part of a miniature as a body, and the plan of how they are joined."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold

from cage3d.design.models import Design
from cage3d.miniature.lines import CageLines, TieLine, slack_names
from cage3d.miniature.process import Process, Scale
from cage3d.miniature.sections import Sections
from cage3d.miniature.solids import bar, rod_along, round_bar, stacked
from cage3d.miniature.stand import Stand, base, plan_stand, posts, stem, waist_disc
from cage3d.miniature.topology import BarEnd, Plan
from cage3d.settle.state import SettledCage
from cage3d.shape.form import Form

WAIST: BarEnd = ("waist", 0, 0)
BASE: BarEnd = ("base", 0, 0)
FORM_RINGS = 24
FORM_INWARD = 0.6  # of the least section: the form's wall before the waist disc's, so that none coincide


@dataclass(frozen=True)
class Built:
    """The parts of one miniature in mm, before they are united."""

    solids: dict[str, Manifold]
    plan: Plan
    stand: Stand
    engraved: str
    notes: tuple[str, ...]


class Builder:
    """Gathers parts; each method adds one kind of part to the solids and to the plan."""

    def __init__(
        self,
        settled: SettledCage,
        lines: CageLines,
        sections: Sections,
        process: Process,
        asked: tuple[str, ...],
    ) -> None:
        self.settled, self.lines, self.sections, self.asked = settled, lines, sections, asked
        self.process = process
        self.planned = plan_stand(lines, settled.cage.stations, process)
        self.solids: dict[str, Manifold] = {}
        self.plan = Plan()
        self.notes: list[str] = []
        self.engraved = ""
        if names := slack_names(settled):
            told = ", ".join(names) if len(names) <= 3 else f"{len(names)} stretches of tapes and ties"
            self.notes.append(f"Slack, drawn with less bulge than true: {told}")

    def hoops(self) -> None:
        joined = self.settled.cage.connectivity
        for hoop, line in enumerate(self.lines.hoops):
            own = self.sections.hoops[hoop]
            is_round = self.settled.cage.steels[hoop].section.round
            self.solids[line.name] = round_bar(line, own[0]) if is_round else bar(line, *own)
            place = {int(node): spot for spot, node in enumerate(joined.hoop_nodes[hoop])}
            tapes = joined.tapes_of(hoop)
            order = tapes[np.argsort([place[int(node)] for node in joined.crossing[hoop, tapes]])]
            places: list[BarEnd] = [self._crossing(hoop, int(tape)) for tape in order]
            self.plan.add(line.name, places, bool(joined.closed[hoop]))

    def tapes(self) -> None:
        thickness, width = self.sections.tape
        for tape, line in enumerate(self.lines.tapes):
            self.solids[line.name] = bar(line, thickness, width, self.sections.tape_outward)
            joined = self.settled.cage.connectivity
            places = [self._crossing(int(hoop), tape) for hoop in joined.hoops_of(tape)]
            starts = [self._top(tape)] if joined.anchors[tape] >= 0 else []
            self.plan.add(line.name, list(dict.fromkeys([*starts, *places])))

    def _crossing(self, hoop: int, tape: int) -> BarEnd:
        """Where a tape crosses a hoop; hoops that meet there are one place, named by the highest."""
        above = {(int(low), int(own)): int(high) for high, low, own in self.lines.meeting}
        while (hoop, tape) in above:
            hoop = above[hoop, tape]
        joined = self.settled.cage.connectivity
        row = joined.segment_row[hoop, tape]
        if row in joined.meeting and joined.pulls[row, 0] == joined.anchors[tape]:
            return self._top(tape)  # its end is sewn to the waistband
        return ("hoop", hoop, tape)

    def _top(self, tape: int) -> BarEnd:
        return WAIST if "waistband" in self.asked else ("anchor", tape, 0)

    def ties(self) -> None:
        kept = [tie for tie in self.lines.ties if not self._lost_in_hoop(tie)]
        for index, tie in enumerate(kept):
            self.solids[tie.name] = rod_along(tie.points, self.sections.tie)
            inner = [(share, ("meeting", min(index, other), max(index, other)))
                     for other, second in enumerate(kept) if other != index
                     for share in self._meeting(tie, second)]  # fmt: skip
            first, last = (self._node(node) for node in tie.nodes)
            self.plan.add(tie.name, [first, *(node for _, node in sorted(inner)), last])

    def _lost_in_hoop(self, tie: TieLine) -> bool:
        """Whether a short tie would print as one lump with the hoop it joins; told where so."""
        if tie.hoop is None or "hoops" not in self.asked:
            return False
        hoop = self.lines.hoops[tie.hoop].points
        share = np.linspace(0.0, 1.0, 41)[:, None]
        along = (1.0 - share) * tie.points[0] + share * tie.points[-1]
        apart = np.linalg.norm(along[:, None, :] - hoop[None, :, :], axis=2).min(axis=1).max()
        room = self.sections.tie / 2.0 + self.sections.hoops[tie.hoop][0] / 2.0 + self.process.opening
        if apart >= room:
            return False
        self.notes.append(f"{tie.name} lies too close to hoop {tie.hoop + 1} to print apart; it is left out")
        return True

    def _meeting(self, tie: TieLine, other: TieLine) -> list[float]:
        """Where along a tie another one runs through it away from the ends."""
        if set(tie.nodes) & set(other.nodes):
            return []
        start, along = tie.points[0], tie.points[-1] - tie.points[0]
        begin, onward = other.points[0], other.points[-1] - other.points[0]
        system = np.column_stack([along, -onward])
        (share, there), *_ = np.linalg.lstsq(system, begin - start, rcond=None)
        apart = np.linalg.norm(start + share * along - begin - there * onward)
        inside = 0.0 < share < 1.0 and 0.0 < there < 1.0
        return [float(share)] if inside and apart < self.sections.tie else []

    def _node(self, node: int) -> BarEnd:
        joined = self.settled.cage.connectivity
        found = np.argwhere(joined.crossing == node)
        if len(found):
            return self._crossing(int(found[0][0]), int(found[0][1]))
        return self._top(int(np.flatnonzero(joined.anchors == node)[0]))

    def stand(self, scale: Scale) -> None:
        """Waist disc, base, stem and posts, as far as they are asked for."""
        design = self.settled.cage.design
        planned, process = self.planned, self.process
        if "waistband" in self.asked:
            self.solids["waist disc"] = waist_disc(self.lines, planned)
            self.plan.add("waist disc", [WAIST, ("waist", 1, 0)])
        if "stand" not in self.asked:
            return
        self.solids["base"], self.engraved = base(planned, process, scale.text, design.name, code_of(design))
        self.plan.add("base", [BASE, ("base", 1, 0)])
        if not self.engraved:
            self.notes.append(f"The base is too small to engrave; the file name tells the scale {scale.text}")
        pole = stem(self.lines, planned, process)
        if "form" not in self.asked and pole is not None:
            self.solids["stem"] = pole
            self.plan.add("stem", [BASE, WAIST])
        elif pole is None:
            self.notes.append("Ties leave no room for a stem; the posts under the lowest hoop carry it")
        uprights = posts(self.lines, planned, process)
        for hoop, tape in planned.posts.tolist() if "hoops" in self.asked else ():
            self.solids[f"post {tape + 1}"] = uprights[tape]
            self.plan.add(f"post {tape + 1}", [BASE, self._crossing(hoop, tape)])

    def form(self, scale: Scale) -> None:
        shape = self.settled.cage.form
        if shape is None:
            self.notes.append(
                "The wearer's form needs a hip girth and its drop below the waist; it is left out"
            )
            return
        self.solids["form"] = form_solid(shape, scale, self.process)
        self.plan.add("form", [BASE if "stand" in self.asked else ("form", 0, 0), WAIST])


def build_bars(
    settled: SettledCage,
    lines: CageLines,
    sections: Sections,
    scale: Scale,
    process: Process,
    asked: tuple[str, ...],
) -> Built:
    """The asked parts of a miniature."""
    builder = Builder(settled, lines, sections, process, asked)
    if "hoops" in asked:
        builder.hoops()
    if "tapes" in asked:
        builder.tapes()
    if "ties" in asked:
        builder.ties()
    builder.stand(scale)
    if "form" in asked:
        builder.form(scale)
    return Built(builder.solids, builder.plan, builder.planned, builder.engraved, tuple(builder.notes))


def form_solid(form: Form, scale: Scale, process: Process) -> Manifold:
    """The wearer from the floor to the middle of the waist disc, drawn in a little."""
    size = scale.per_metre
    top = form.sections[0].height
    rings = []
    for height in np.linspace(top, 0.0, FORM_RINGS):
        ring = form.ring(float(height), 72) * size
        reach = np.linalg.norm(ring[:, :2], axis=1, keepdims=True)
        ring[:, :2] *= 1.0 - FORM_INWARD * process.section / reach
        rings.append(ring)
    rings[-1][:, 2] = -process.base / 2.0
    return stacked(rings)


def code_of(design: Design) -> str:
    """A short code for the base: the wearer's, or the production's first word."""
    return (design.wearer.code or (design.production or "").split(" ")[0])[:10]
