"""Results of long computations, kept in the user's cache folder under a key of all they depend on.

Nothing that goes wrong here is a fault: what is not found is computed again.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

import housemap
from housemap.file.atomic import private_folder, user_folder, write_private

MOST_BYTES = 64_000_000
"""Of all results together; beyond it those that were used last go last."""
DIGEST_BYTES = 16


def cache_folder() -> Path:
    """Holds what can be computed again. HOUSEMAP_CACHE_DIR sets another."""
    return user_folder("HOUSEMAP_CACHE_DIR", "user_cache_path")


def recall(key: str) -> bytes | None:
    """What was kept under a key; None where there is nothing, or it is damaged."""
    file = cache_folder() / key
    try:
        if file.stat().st_size > MOST_BYTES:
            return None
        data = file.read_bytes()
        os.utime(file)
    except OSError:
        return None
    body = data[DIGEST_BYTES:]
    return body if _digest(body) == data[:DIGEST_BYTES] else None


def keep(key: str, body: bytes) -> None:
    """Keep a result whole or not at all; not where the folder cannot be written."""
    with suppress(OSError):
        write_private(private_folder(cache_folder()) / key, _digest(body) + body)
        _shrink(MOST_BYTES)


def key_of(kind: str, *parts: bytes) -> str:
    """A name for a result, by all that it depends on."""
    from hashlib import blake2b  # noqa: PLC0415 - a slow import

    hashed = blake2b(digest_size=20)
    for part in parts:
        hashed.update(len(part).to_bytes(8, "little") + part)
    return f"{kind}-{hashed.hexdigest()}"


@cache
def program(*packages: str) -> tuple[str, int]:
    """For a key: the version, and when a file of these was edited last, for who works on it."""
    files = (
        file for each in packages for file in (Path(housemap.__file__).parent / each).glob("*.py")
    )
    return housemap.__version__, max(file.stat().st_mtime_ns for file in files)


def kept_bytes() -> int:
    return sum(size for _, size, _ in _files())


def empty() -> None:
    _shrink(0)


def _digest(body: bytes) -> bytes:
    from hashlib import blake2b  # noqa: PLC0415 - a slow import

    return blake2b(body, digest_size=DIGEST_BYTES).digest()


def _shrink(most_bytes: int) -> None:
    files = sorted(_files())
    left = sum(size for _, size, _ in files)
    for _, size, path in files:
        if left <= most_bytes:
            break
        with suppress(OSError):
            Path(path).unlink()
        left -= size


def _files() -> Iterator[tuple[int, int, str]]:
    """When each was used last, its size, and its path."""
    with suppress(OSError), os.scandir(cache_folder()) as entries:
        for each in entries:
            with suppress(OSError):
                if each.is_file(follow_symlinks=False):
                    stat = each.stat(follow_symlinks=False)
                    yield stat.st_mtime_ns, stat.st_size, each.path
