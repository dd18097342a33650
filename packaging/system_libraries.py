"""The shared libraries of the system that Qt's wheel for Linux leaves to the system, and how to get them."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from typing import NamedTuple

import debian
import environment
from console import say, stop, succeeds

# The file that is looked for: its package on Debian and Ubuntu, on Fedora, on Arch.
PACKAGES = {
    "libEGL.so.1": ("libegl1", "libglvnd-egl", "libglvnd"),
    "libGL.so.1": ("libgl1", "libglvnd-glx", "libglvnd"),
    "libOpenGL.so.0": ("libopengl0", "libglvnd-opengl", "libglvnd"),
    "libxkbcommon.so.0": ("libxkbcommon0", "libxkbcommon", "libxkbcommon"),
    "libxkbcommon-x11.so.0": ("libxkbcommon-x11-0", "libxkbcommon-x11", "libxkbcommon-x11"),
    "libfontconfig.so.1": ("libfontconfig1", "fontconfig", "fontconfig"),
    "libfreetype.so.6": ("libfreetype6", "freetype", "freetype2"),
    "libdbus-1.so.3": ("libdbus-1-3", "dbus-libs", "dbus"),
    "libglib-2.0.so.0": ("libglib2.0-0", "glib2", "glib2"),
    "libgthread-2.0.so.0": ("libglib2.0-0", "glib2", "glib2"),
    "libX11.so.6": ("libx11-6", "libX11", "libx11"),
    "libX11-xcb.so.1": ("libx11-xcb1", "libX11-xcb", "libx11"),
    "libxcb.so.1": ("libxcb1", "libxcb", "libxcb"),
    "libxcb-cursor.so.0": ("libxcb-cursor0", "xcb-util-cursor", "xcb-util-cursor"),
    "libxcb-glx.so.0": ("libxcb-glx0", "libxcb", "libxcb"),
    "libxcb-icccm.so.4": ("libxcb-icccm4", "xcb-util-wm", "xcb-util-wm"),
    "libxcb-image.so.0": ("libxcb-image0", "xcb-util-image", "xcb-util-image"),
    "libxcb-keysyms.so.1": ("libxcb-keysyms1", "xcb-util-keysyms", "xcb-util-keysyms"),
    "libxcb-randr.so.0": ("libxcb-randr0", "libxcb", "libxcb"),
    "libxcb-render.so.0": ("libxcb-render0", "libxcb", "libxcb"),
    "libxcb-render-util.so.0": ("libxcb-render-util0", "xcb-util-renderutil", "xcb-util-renderutil"),
    "libxcb-shape.so.0": ("libxcb-shape0", "libxcb", "libxcb"),
    "libxcb-shm.so.0": ("libxcb-shm0", "libxcb", "libxcb"),
    "libxcb-sync.so.1": ("libxcb-sync1", "libxcb", "libxcb"),
    "libxcb-util.so.1": ("libxcb-util1", "xcb-util", "xcb-util"),
    "libxcb-xfixes.so.0": ("libxcb-xfixes0", "libxcb", "libxcb"),
    "libxcb-xkb.so.1": ("libxcb-xkb1", "libxcb", "libxcb"),
    "Xvfb": ("xvfb", "xorg-x11-server-Xvfb", "xorg-server-xvfb"),
    "xdotool": ("xdotool", "xdotool", "xdotool"),
}
DISPLAY_TOOLS = ("Xvfb", "xdotool")

MODULES = ("QtCore", "QtGui", "QtWidgets", "QtSvg", "QtPrintSupport", "QtTest")
PLUGINS = (
    "platforms/libqxcb.so",
    "platforms/libqoffscreen.so",
    "platforms/libqminimal.so",
    "xcbglintegrations/*.so",
)


class Manager(NamedTuple):
    """A package manager: the column of the table that holds its names, and the words before the packages."""

    column: int
    refresh: list[str]
    install: list[str]


# Without a timeout for its lock, apt fails at once while another apt runs.
APT = ["apt-get", "-o", "DPkg::Lock::Timeout=300"]
MANAGERS = (
    Manager(0, [*APT, "update", "-q"], [*APT, "install", "-y", "-q", "--no-install-recommends"]),
    Manager(1, [], ["dnf", "install", "-y", "-q"]),
    Manager(2, [], ["pacman", "-S", "--needed", "--noconfirm"]),
)


def provide(for_tests: bool) -> None:
    """Installs what is missing if this user may, unpacks it inside ``.venv`` if that can be done, else says what to do.

    The programs of the display tests are never a reason to stop: those tests are then left out.
    """
    if not sys.platform.startswith("linux"):
        return
    libraries = missing_libraries()
    tools = [name for name in DISPLAY_TOOLS if not shutil.which(name)] if for_tests else []
    if not libraries and not tools:
        return
    say(f"missing in this system: {' '.join([*libraries, *tools])}")
    manager = next((one for one in MANAGERS if shutil.which(one.install[0])), None)
    if manager is None:
        if libraries:
            stop("Qt cannot start without these libraries, and no package manager known here brings them")
        return
    if install(manager, packages_of([*libraries, *tools], manager)) and not missing_libraries():
        return
    if tools:
        say(f"the tests that need a display are left out. For them too:\n    {by_hand(tools, manager)}")
    if libraries and not unpack(packages_of(libraries, manager), manager):
        stop(
            f"Qt cannot start. Once do this, then give the same command again:\n    {by_hand(libraries, manager)}"
        )


def missing_libraries() -> list[str]:
    """The shared libraries that Qt's own files ask for and the loader does not find."""
    qt = next(environment.VENV.glob("lib/python3*/site-packages/PySide6"))
    patterns = [f"{name}.abi3.so" for name in MODULES]
    patterns += [f"Qt/plugins/{name}" for name in PLUGINS]
    patterns += ["Qt/lib/libQt6XcbQpa.so.6"]
    files = [str(file) for pattern in patterns for file in sorted(qt.glob(pattern))]
    listing = subprocess.run(
        ["ldd", *files],
        env=environment.child_variables(),
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        check=False,
    ).stdout.decode()
    own = {file.name for file in (qt / "Qt/lib").iterdir()}
    return sorted(set(re.findall(r"^\s*(\S+) => not found", listing, re.MULTILINE)) - own)


def packages_of(names: list[str], manager: Manager) -> list[str]:
    """The packages that bring these files; a file that the table does not know stays missing and is told so."""
    return sorted({PACKAGES[name][manager.column] for name in names if name in PACKAGES})


def install(manager: Manager, packages: list[str]) -> bool:
    """Installs packages in the system, as root or where sudo asks for no password."""
    if os.geteuid() == 0:
        lead = []
    elif shutil.which("sudo") and succeeds("sudo", "-n", "true", stderr=subprocess.DEVNULL):
        lead = ["sudo", "-n", "env", "DEBIAN_FRONTEND=noninteractive"]
    else:
        return False
    say(f"installing {' '.join(packages)}")
    variables = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    if manager.refresh:  # without it a fresh machine knows no package; if it fails, the lists at hand may do
        succeeds(*lead, *manager.refresh, stdout=subprocess.DEVNULL, env=variables)
    return succeeds(*lead, *manager.install, *packages, stdout=subprocess.DEVNULL, env=variables)


def unpack(packages: list[str], manager: Manager) -> bool:
    """On Debian and its kin an ordinary user can fetch the same packages and keep them inside ``.venv``."""
    return (
        manager.install[0] == "apt-get"
        and debian.unpack_libraries(packages, environment.VENV)
        and not missing_libraries()
    )


def by_hand(names: list[str], manager: Manager) -> str:
    """The line that a person gives to install the packages of these files."""
    refresh = "sudo apt-get update && " if manager.refresh else ""
    verb = "-S" if manager.install[0] == "pacman" else "install"
    return f"{refresh}sudo {manager.install[0]} {verb} {' '.join(packages_of(names, manager))}"
