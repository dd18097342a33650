"""Fetches packages of Debian and its kin without root: lists, downloads and contents stay in a folder of ours."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from urllib.parse import unquote

from console import output, run, say, succeeds

# Besides libraries, what they read at start: keyboard layouts, font configuration and one font.
DATA_PACKAGES = ("xkb-data", "fontconfig-config", "fonts-dejavu-core")


def pip_wheel(venv: Path) -> Path | None:
    """pip's wheel out of the package that Debian splits it off into."""
    folder = venv / "pip-wheel"
    if not folder.exists() and not fetch(["python3-pip-whl"], venv / "apt", folder):
        return None
    return max(folder.rglob("pip-*.whl"), default=None)


def unpack_libraries(packages: list[str], venv: Path) -> bool:
    """Unpacks packages, and the libraries that they need, into ``.venv/system``; the system stays as it is."""
    state = venv / "apt"
    options = private_apt(state)
    if not options:
        return False
    words = ["install", "-y", "--no-install-recommends", "--print-uris", "-qq", *packages]
    closure = output("apt-get", *options, *words) or ""
    names = re.findall(r"^'[^']+' (\S+?)_(\S+?)_\S+\.deb ", closure, re.MULTILINE)
    wanted = [
        f"{name}={unquote(version)}"
        for name, version in names
        if name.startswith("lib") or name in DATA_PACKAGES
    ]
    if not wanted or not fetch(wanted, state, venv / "system"):
        return False
    say(f"no right to install: the libraries were unpacked in {venv / 'system'}")
    return True


def fetch(packages: list[str], state: Path, folder: Path) -> bool:
    """Downloads packages and unpacks them in ``folder``."""
    options = private_apt(state)
    archives = state / "archives"
    fetched = bool(options) and succeeds("apt-get", *options, "download", "-qq", *packages, cwd=archives)
    if fetched:
        folder.mkdir(exist_ok=True)
        for file in sorted(archives.glob("*.deb")):
            run("dpkg-deb", "-x", file, folder)
    shutil.rmtree(state, ignore_errors=True)
    return fetched


def private_apt(state: Path) -> list[str]:
    """Options that make apt-get keep everything in ``state``, with the lists fetched; empty where it cannot be done."""
    if not shutil.which("apt-get") or not shutil.which("dpkg-deb"):
        return []
    for folder in (state / "lists/partial", state / "archives/partial"):
        folder.mkdir(parents=True, exist_ok=True)
    places = {"State::Lists": state / "lists", "Cache": state, "Cache::Archives": state / "archives"}
    options = [word for name, place in places.items() for word in ("-o", f"Dir::{name}={place}")]
    options += [
        "-o",
        "Debug::NoLocking=true",
        "-o",
        "APT::Sandbox::User=root",
    ]  # its own user cannot read our folder
    if any((state / "lists").glob("*Packages*")):
        return options
    return options if succeeds("apt-get", *options, "update", "-q", stdout=subprocess.DEVNULL) else []
