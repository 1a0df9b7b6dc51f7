"""Version of the package and of the data it answers from; every output carries both."""

from functools import cache

VERSION = "0.1.0"


@cache
def data_version() -> str:
    """Content hash over all data files, 12 hex digits: the same files give the same text anywhere."""
    import hashlib
    import os

    root = f"{os.path.dirname(__file__)}/data"
    digest = hashlib.sha256()
    names = (os.path.join(folder, name) for folder, _, files in os.walk(root) for name in files)
    for name in sorted(os.path.relpath(name, root).replace(os.sep, "/") for name in names):
        if name.endswith((".toml", ".csv")):
            with open(f"{root}/{name}", "rb") as file:
                digest.update(name.encode() + b"\0" + file.read().replace(b"\r\n", b"\n"))
    return digest.hexdigest()[:12]
