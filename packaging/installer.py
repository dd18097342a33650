"""Installs hashed requirements into a virtual environment, by whichever installer this machine has."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
from pathlib import Path

import debian
from console import output, run, say, stop, succeeds

OLDEST_PIP = (22, 3)  # the first that installs for another interpreter
PIP_NAME = "pip-26.3-py3-none-any.whl"
PIP_SHA256 = "f3b60b20ffaadd4415ed7957212a38ac63fa4c5fa375bd0f4a797777940fad13"


def install(python: str, venv: Path, target: Path, lock: Path, project: list[str]) -> None:
    """Installs the packages of ``lock``, then the project, for the interpreter ``target`` of ``venv``.

    ``python`` is an interpreter outside it whose pip may be used; ``project`` the words that name the project.
    """
    if not with_uv(target, lock, project):
        with_pip(pip_command(python, venv), target, lock, project)


def with_uv(target: Path, lock: Path, project: list[str]) -> bool:
    """Ten times as fast as pip, where it is installed; it does not know an index set for pip."""
    uv = shutil.which("uv")
    if not uv or pip_setting("index-url"):
        return False
    words = [uv, "pip", "install", "-q", "--python", target, "--no-deps"]
    if succeeds(*words, "--require-hashes", "-r", lock) and succeeds(
        *words, "--no-build-isolation", *project
    ):
        return True
    say("uv failed; going on with pip")
    return False


def with_pip(pip: list[str], target: Path, lock: Path, project: list[str]) -> None:
    """Byte code is left to the first start, which writes it only for what is imported."""
    settings = {"PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_ROOT_USER_ACTION": "ignore", "PIP_NO_INPUT": "1"}
    variables = {**os.environ, **settings, "PIP_USER": "0"}
    words = [*pip, "--python", target, "install", "-q", "--no-compile", "--no-deps"]
    run(*words, "--require-hashes", "-r", lock, env=variables)
    run(*words, "--no-build-isolation", *project, env=variables)


def pip_command(python: str, venv: Path) -> list[str]:
    """How to run pip: as installed, bundled with Python, from the index that pip is set to, or from Debian."""
    version = output(python, "-c", "import pip; print(pip.__version__)")
    if version and tuple(int(part) for part in re.findall(r"\d+", version)[:2]) >= OLDEST_PIP:
        return [python, "-m", "pip"]
    wheel = bundled_wheel(python) or wheel_from_index(venv) or debian.pip_wheel(venv)
    if not wheel:
        stop(
            "this Python has no pip. Install it (on Debian and Ubuntu: sudo apt-get install python3-pip), "
            "then give the same command again"
        )
    return [python, str(wheel / "pip")]


def bundled_wheel(python: str) -> Path | None:
    """The wheel that Python keeps for ensurepip; Debian splits it off."""
    folder = output(python, "-c", "import ensurepip; print(ensurepip.__path__[0])")
    return max((Path(folder.strip()) / "_bundled").glob("pip-*.whl"), default=None) if folder else None


def wheel_from_index(venv: Path) -> Path | None:
    """One known version of pip, from the index that the user's own configuration names; its digest is compared."""
    index = pip_setting("index-url")
    if not index:
        return None
    wheel = venv / PIP_NAME
    if not wheel.exists():
        try:
            data = download(index.rstrip("/") + "/pip/", PIP_NAME)
        except (OSError, ValueError) as problem:
            say(f"pip could not be fetched from the index that is set for it: {problem}")
            return None
        if hashlib.sha256(data).hexdigest() != PIP_SHA256:
            stop(f"{PIP_NAME} of the index that is set for pip is not the file expected; nothing was run")
        wheel.write_bytes(data)
    return wheel


def download(page_address: str, name: str) -> bytes:
    """A file that a page of an index links to; raises OSError or ValueError."""
    import html
    import ssl
    import urllib.parse
    import urllib.request

    context = ssl.create_default_context(cafile=pip_setting("cert"))
    if not context.get_ca_certs() and not os.environ.get("SSL_CERT_FILE"):
        # A bare container has no certificates. The digest decides what is run, not the transport.
        context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    with urllib.request.urlopen(page_address, timeout=60, context=context) as answer:
        base, page = answer.geturl(), answer.read().decode()
    for link in re.findall(r'href="([^"]+)"', page):
        address = urllib.parse.urljoin(base, html.unescape(link))
        if urllib.parse.urlsplit(address).path.endswith("/" + name):
            with urllib.request.urlopen(address, timeout=60, context=context) as answer:
                data: bytes = answer.read()
                return data
    raise ValueError(f"{page_address} has no {name}")


def pip_setting(name: str) -> str | None:
    """One of pip's global settings, from where pip itself reads them: environment, then its files."""
    import configparser

    value = os.environ.get("PIP_" + name.upper().replace("-", "_"))
    if value:
        return value
    home, config = Path.home(), configparser.RawConfigParser()
    files = [
        Path("/etc/xdg/pip/pip.conf"),
        Path("/etc/pip.conf"),
        home / ".pip/pip.conf",
        home / "Library/Application Support/pip/pip.conf",
        Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config") / "pip/pip.conf",
        Path(os.environ.get("APPDATA") or home) / "pip/pip.ini",
    ]
    if os.environ.get("PIP_CONFIG_FILE"):
        files.append(Path(os.environ["PIP_CONFIG_FILE"]))
    config.read([str(file) for file in files], encoding="utf-8")
    return config.get("install", name, fallback=None) or config.get("global", name, fallback=None)
