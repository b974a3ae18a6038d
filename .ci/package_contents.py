"""Checks that the built wheel and source archive hold exactly what they should.

    python3 .ci/package_contents.py FOLDER

FOLDER holds one .whl and one .tar.gz. The files known to git are the truth: the archive holds them all, the wheel
those of the packages. Ends with status 1 and a list where one is missing, or is there and should not be.
"""

import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path, PurePosixPath

ROOT = Path(__file__).parents[1]
WHEEL_NEEDS = {  # said by hand as well, since a file that git does not know would be missed by nobody
    "cage3d/py.typed", "cage3d/samples/design.schema.json", "cage3d/samples/d-back-weighted-egg.yaml",
    "cage3d/page/files/page.html", "cage3d/page/files/page.css", "cage3d/page/files/scripts/start.js",
    "cage3d/fonts/DejaVuSans.ttf", "cage3d/fonts/DejaVuSans-LICENSE.txt", "cage3d_cli/main.py",
}  # fmt: skip
INFO = {"METADATA", "WHEEL", "RECORD", "entry_points.txt", "top_level.txt", "licenses/LICENSE"}
NOT_ARCHIVED = {".gitignore"}
ADDED_TO_ARCHIVE = {"PKG-INFO", "setup.cfg"}
LARGEST = 1_000_000  # bytes; the fonts are the largest files


def tracked() -> set[str]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    return set(listed.decode("utf-8").split("\0")) - {""}


def wheel_should(files: set[str]) -> set[str]:
    """Where the wheel has each file that a user needs: all of cage3d/, the command line, designs, tables and schema."""
    should = {name for name in files if name.startswith("cage3d/")}
    should |= {name.replace("cli/", "cage3d_cli/", 1) for name in files if name.startswith("cli/")}
    kinds = ("samples/*.yaml", "samples/*.csv")
    samples = {name for name in files if any(PurePosixPath(name).match(kind) for kind in kinds)}
    return should | {f"cage3d/{name}" for name in samples | {"samples/design.schema.json"}}


def wheel_faults(path: Path, files: set[str]) -> list[str]:
    with zipfile.ZipFile(path) as wheel:
        sizes = {entry.filename: entry.file_size for entry in wheel.infolist()}
    held = {name.partition(".dist-info/")[2] or name for name in sizes}
    return differences("wheel", held, wheel_should(files) | WHEEL_NEEDS | INFO) + too_large("wheel", sizes)


def archive_faults(path: Path, files: set[str]) -> list[str]:
    with tarfile.open(path) as archive:
        sizes = {entry.name.partition("/")[2]: entry.size for entry in archive if entry.isfile()}
    held = {name for name in sizes if not name.startswith("cage3d.egg-info/")}
    return differences("archive", held, files - NOT_ARCHIVED | ADDED_TO_ARCHIVE) + too_large("archive", sizes)


def differences(what: str, held: set[str], should: set[str]) -> list[str]:
    lacks = [f"the {what} lacks {name}" for name in sorted(should - held)]
    return lacks + [f"the {what} holds {name}, which is no part of it" for name in sorted(held - should)]


def too_large(what: str, sizes: dict[str, int]) -> list[str]:
    return [f"the {what} holds {name}, {size:,} bytes" for name, size in sizes.items() if size > LARGEST]


def main() -> None:
    (wheel,), (archive,) = (list(Path(sys.argv[1]).glob(kind)) for kind in ("*.whl", "*.tar.gz"))
    files = tracked()
    if faults := wheel_faults(wheel, files) + archive_faults(archive, files):
        sys.exit("\n".join(faults))


if __name__ == "__main__":
    main()
