"""What to do where nothing can be drawn, by the system it happens on."""

from __future__ import annotations

import platform
import sys

WITHOUT = "the page of cage3d make needs none of this"
PACKAGES = {  # a distribution's ID, or one it says it is like (os-release): Mesa's EGL and drivers there
    "debian": ("Debian and Ubuntu", "apt install libegl1 libgl1-mesa-dri"),
    "fedora": ("Fedora", "dnf install mesa-libEGL mesa-dri-drivers"),
    "arch": ("Arch", "pacman -S mesa"),
}


def graphics_advice() -> str:
    """One sentence: what to install or where to run it."""
    return f"{remedy(sys.platform)}; {WITHOUT}"


def remedy(system: str) -> str:
    if system == "darwin":
        return "Run it while you are logged in at the Mac itself: a terminal over ssh has no graphics"
    if system == "win32":
        return (
            "Install your graphics card's own driver: OpenGL 3.2 is needed, and a remote desktop may lack it"
        )
    for name in distribution():
        if name in PACKAGES:
            system_name, command = PACKAGES[name]
            return f"On {system_name}: {command}"
    return "Install Mesa's EGL library and drivers (on Debian: apt install libegl1 libgl1-mesa-dri)"


def distribution() -> list[str]:
    """'ubuntu', 'debian': what this Linux calls itself, and then what it is like."""
    try:
        told = platform.freedesktop_os_release()
    except OSError:
        return []
    return [told["ID"], *told.get("ID_LIKE", "").split()]
