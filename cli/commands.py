"""All commands of `cage3d`, one file each, and what the command ends with."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from cage3d import __version__
from cage3d.errors import CageError
from cage3d.legible import legible

from . import aim, check, fitting, grade, make, maquette, new, sheets, show, true, vary
from .ending import Unprinted
from .examples import examples_of
from .telling import say, status_of, tell, tell_unexpected


class Commands(TyperGroup):
    """The commands. Words typed wrongly are repeated by typer: without the signs that would steer a terminal."""

    def make_context(self, *given: Any, **more: Any) -> Any:
        with legible_faults():
            return super().make_context(*given, **more)

    def invoke(self, ctx: Any) -> Any:
        with legible_faults():
            return super().invoke(ctx)


@contextmanager
def legible_faults() -> Iterator[None]:
    """Usage faults carry what is told as `message`, whichever library they are of."""
    try:
        yield
    except Exception as fault:
        message = getattr(fault, "message", None)
        if isinstance(message, str):
            vars(fault)["message"] = legible(message)
        raise


app = typer.Typer(
    cls=Commands,
    help="Works out how a cage petticoat will hang, and gives its 3D model, miniature and making sheets.",
    epilog="Numbers are predictions, not a safety certificate: try the cage on its wearer before it is used.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (
    new.new, check.check, fitting.fitting, vary.vary, aim.aim, true.true, grade.grade, make.make, show.show,
    maquette.maquette, sheets.sheets,
):  # fmt: skip
    # A range may begin with a sign, as an option does.
    signs = {"ignore_unknown_options": True} if command is vary.vary else {}
    app.command(epilog=examples_of(command.__name__), context_settings=signs)(command)


def print_version(wanted: bool) -> None:
    if wanted:
        say(f"cage3d {__version__}")
        raise typer.Exit


@app.callback()
def options_of_all(
    _version: Annotated[
        bool,
        typer.Option("--version", callback=print_version, is_eager=True, help="Show the version and exit."),
    ] = False,
) -> None:
    pass


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
