"""Packages that hold open artwork: fetched in the version asked for, and what their files say of their author."""

from __future__ import annotations

import re
import subprocess
import tarfile
from pathlib import Path


def npm(package: str, version: str, folder: Path) -> dict[str, bytes]:
    """Return the files of an npm package by path, such as "icons.json"; fetched unless `folder` holds its tarball.

    Raises:
        subprocess.CalledProcessError: npm has no such version.
    """
    tarball = folder / f"{package.removeprefix('@').replace('/', '-')}-{version}.tgz"
    if not tarball.exists():
        _run("npm", "pack", "--loglevel", "error", f"{package}@{version}", folder=folder)
    with tarfile.open(tarball) as tar:
        return {m.name.removeprefix("package/"): f.read() for m in tar if m.isfile() and (f := tar.extractfile(m))}


def debian(package: str, version: str, folder: Path) -> Path:
    """Return where a Debian package lies unpacked; fetched unless `folder` holds its archive.

    Raises:
        subprocess.CalledProcessError: the system's package sources have no such version.
    """
    # apt writes the colon after an epoch so.
    archives = f"{package}_{version.replace(':', '%3a')}_*.deb"
    if not any(folder.glob(archives)):
        _run("apt-get", "download", f"{package}={version}", folder=folder)
    _run("dpkg-deb", "-x", str(next(folder.glob(archives)).resolve()), package, folder=folder)
    return folder / package


def _run(*command: str, folder: Path) -> None:
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)


def copyright_line(licence: str) -> str:
    """The first line of a licence text that names an owner, up to its first address or file."""
    lines = [line.strip() for line in licence.splitlines() if line.strip()]
    # The words of the Open Font License speak of "copyright statement(s)" too.
    line = next((line for line in lines if re.match(r"copyright\b.*\d{4}", line, re.IGNORECASE)), lines[0])
    return re.split(r",?\s*[(<]?https?://|\s\S+\.ttf:", line)[0].replace(" |", ",").replace("|", ", ")
