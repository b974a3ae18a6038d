"""All commands of `cage3d`, one file each, and what the command ends with."""

from __future__ import annotations

import typer

from cage3d.errors import CageError

from . import check, make, maquette, new, sheets, show
from .ending import Unprinted
from .telling import status_of, tell, tell_unexpected

app = typer.Typer(
    help="Works out how a cage petticoat will hang, and gives its 3D model, miniature and making sheets.",
    epilog="Numbers are predictions, not a safety certificate: try the cage on its wearer before it is used.",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (new.new, check.check, make.make, show.show, maquette.maquette, sheets.sheets):
    app.command()(command)


def answered() -> int:
    """Runs the command that was written; its exit status. Raises Unprinted; no other fault gets out."""
    try:
        app(prog_name="cage3d")
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0 if end.code is None else 1
    except Unprinted:
        raise
    except CageError as fault:
        tell(fault)
        return status_of(fault)
    except Exception as fault:
        tell_unexpected(fault)
        return 1
    return 0
