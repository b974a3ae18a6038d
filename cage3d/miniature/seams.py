"""A miniature of a cage that hangs on its own cloth: what stands in it for tapes are the seams, and is called so."""

from __future__ import annotations

from dataclasses import replace

from cage3d.errors import CommandError
from cage3d.miniature.maquette import Maquette
from cage3d.miniature.ways import RunTogetherError
from cage3d.wording import of_seams


def said_of_seams(made: Maquette) -> Maquette:
    """The same miniature, its bodies and all that is told of it named after seams."""
    plates = tuple(tuple(replace(body, name=of_seams(body.name)) for body in plate) for plate in made.plates)
    return replace(
        made,
        plates=plates,
        thickened=tuple(map(of_seams, made.thickened)),
        assembly=tuple(map(of_seams, made.assembly)),
        notes=tuple(map(of_seams, made.notes)),
    )


def refused_of_seams(fault: CommandError) -> CommandError:
    """The same refusal; what to do instead stays, as it may name parts by the words of the command line."""
    if isinstance(fault, RunTogetherError):
        return RunTogetherError(fault.scale, fault.process, of_seams(fault.why), fault.ways)
    return CommandError([
        replace(problem, said=of_seams(problem.said), why=of_seams(problem.why)) for problem in fault.problems
    ])  # fmt: skip
