"""The one way to write a file of the maker's so that nothing is lost, and the one way to notice that it was changed.

A write goes to a temporary file first and then takes the place of the old one in one step; what stood there before
stays beside it, ending .previous, and every version of a sheet stays in the folder .earlier.  Links are followed,
line ends and a byte-order mark stay as they were, and two who write at once do so one after the other.
"""

import glob
import hashlib
import os
import shutil
import tempfile
import time
from collections.abc import Callable
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from ..basics.fault import Fault, fault

BOM = "\ufeff"
EARLIER, MOST_KEPT = ".earlier", 200
PATIENCE_S = 10.0  # how long one waits for another who writes
STALE_S = 3600.0  # a half-written file of this age belongs to a save that was killed


@dataclass(frozen=True)
class Seen:
    """A file as it was when somebody looked: path, its bytes, None where it was not there.

    >>> Seen(Path("gone.toml"), None).text
    ''
    """

    path: Path
    raw: bytes | None

    @property
    def text(self):
        """Its text, with plain line ends and without a byte-order mark.  Raises Fault: no text in UTF-8."""
        return _decoded(self.path, self.raw or b"").removeprefix(BOM).replace("\r\n", "\n")

    def as_before(self, text):
        """Bytes of a new text with the line ends and the byte-order mark of this one.  text: new text."""
        old, text = self.raw or b"", text.removeprefix(BOM)
        if old.count(b"\r\n") * 2 > old.count(b"\n"):
            text = text.replace("\r\n", "\n").replace("\n", "\r\n")
        return ((BOM if old.startswith(BOM.encode()) else "") + text).encode("utf-8")


class ChangedMeanwhile(Fault):
    """Somebody else has changed the file since it was looked at; nothing was written."""


def _decoded(path, raw):
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        raise fault(
            str(path), "", "is not a text file in UTF-8.", not_text(raw), "Save it as plain text (UTF-8)."
        ) from (None)


def not_text(raw):
    """What a file seems to be that is no plain text in UTF-8.  raw: its bytes."""
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "It is text in UTF-16, as some editors save it."
    if raw[:2] == b"PK" or raw[:4] == b"\xd0\xcf\x11\xe0":
        return "A word processor or a spreadsheet has saved it in a format of its own."
    return "Letters beyond plain ones were saved in an older way of writing them."


def look(path: str | Path) -> Seen:
    """Look at a file.

    path: file name.
    Returns Seen; raw is None where there is none.  Raises Fault: it is there and cannot be read.
    """
    path = Path(path)
    try:
        return Seen(path, path.read_bytes())
    except (FileNotFoundError, NotADirectoryError):
        return Seen(path, None)
    except (OSError, ValueError) as error:
        raise fault(
            str(path)[:100], "", "cannot be opened as a file.", f"The system says: {getattr(error, 'strerror', error)}."
        ) from None


def changed_since(seen: Seen) -> bool:
    """Whether a file is another one now than when it was seen.  seen: Seen."""
    try:
        return look(seen.path).raw != seen.raw
    except Fault:
        return True


@contextmanager
def alone_at(path):
    """While this lasts nobody else here writes a file: others wait.  path: file name.  Raises Fault after a while."""
    name = hashlib.sha256(str(Path(path).resolve()).encode()).hexdigest()[:20]
    place = Path(tempfile.gettempdir()) / f"benchcalc-{getattr(os, 'getuid', int)()}-{name}.lock"
    try:
        handle = os.open(place, os.O_RDWR | os.O_CREAT, 0o600)
    except OSError:  # nowhere to leave a note: then there is no way to wait for one another
        yield
        return
    try:
        end_s = time.monotonic() + PATIENCE_S
        while not _mine(handle):
            if time.monotonic() > end_s:
                raise fault(str(path), "", "is being written by somebody else; nothing was written.", do="Try again.")
            time.sleep(0.01)
        yield
    finally:
        os.close(handle)  # lets go, as the end of a killed process does


def _mine(handle):
    """Whether the note is ours now.  handle: of an open file."""
    try:
        try:
            import fcntl
        except ImportError:
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def put_file(path: str | Path, text: str, *, seen: Seen | None = None) -> Seen:
    """Write a file so that nothing is lost.

    path: file name. text: whole new content. seen: the file as the writer saw it, None: whatever stands there.
    Returns the file as Seen.  Raises ChangedMeanwhile: it was changed since; Fault: it cannot be written.  The
    file is then as it was.
    """
    with alone_at(path):
        before = look(path)
        if seen is not None and before.raw != seen.raw:
            raise ChangedMeanwhile(
                *fault(str(path), "", "was changed by somebody else meanwhile; nothing was written.").complaints
            )
        return _write(before, before.as_before(text))


def alter(path: str | Path, made: Callable[[str], str]) -> Seen:
    """Read a file, make its new text and write it, while nobody else can.

    path: file name. made: function (old text) -> new text; what it raises leaves the file as it was.
    Returns the file as Seen.  Raises Fault: not there any more, or it cannot be written.
    """
    with alone_at(path):
        before = look(path)
        if before.raw is None:
            raise fault(str(path), "", "is not there any more.", do="Choose another sheet in 00_start_here.")
        return _write(before, before.as_before(made(before.text)))


def put_bytes(path, raw):
    """Write bytes so that nothing is lost, without versions.  path: file name. raw: bytes.  Raises Fault."""
    try:
        _replace(Path(path).resolve(), raw)
    except (OSError, ValueError) as error:
        raise _cannot(path, error) from None


def _write(before, raw):
    path = Path(os.path.realpath(before.path))  # a link stays a link, to the file that is altered
    try:
        if before.raw is not None and before.raw != raw:
            _replace(path.with_name(path.name + ".previous"), before.raw)
        if path.suffix == ".toml":
            _remember(path, before.raw, raw)
        _replace(path, raw)
    except (OSError, ValueError) as error:
        raise _cannot(before.path, error) from None
    return Seen(before.path, raw)


def _cannot(path, error):
    return fault(
        str(path)[:200],
        "",
        f"cannot be written ({getattr(error, 'strerror', error)}); the sheet is as it was.",
        do="Give yourself the right to write there, or copy the sheet to a folder of your own.",
    )


def _replace(path, raw):
    """Bytes into a file in one step."""
    temporary = None
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=path.stem[:40], suffix=".part")
        with os.fdopen(handle, "wb") as out:
            out.write(raw)
            out.flush()
            os.fsync(out.fileno())
        if path.exists():
            shutil.copymode(path, temporary)
        else:
            os.chmod(temporary, 0o644)
        os.replace(temporary, path)
        _sweep(path)
    except OSError:
        if temporary is not None and os.path.exists(temporary):
            os.unlink(temporary)
        raise


def _sweep(path):
    """What a save that was killed an hour ago or more left beside the file goes."""
    for left in path.parent.glob(f"{glob.escape(path.stem[:40])}*.part"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > STALE_S:
                left.unlink()


def _remember(path, *versions):
    """Every version of a sheet that is not the last one kept, in a numbered file of its own."""
    kept = versions_of(path)
    last = kept[-1].read_bytes() if kept else None
    number = int(kept[-1].stem) if kept else 0
    for raw in versions:
        if raw is not None and raw != last:
            number += 1
            folder = path.parent / EARLIER / path.stem
            folder.mkdir(parents=True, exist_ok=True)
            _replace(folder / f"{number:05d}.toml", raw)
            last = raw
    for old in versions_of(path)[:-MOST_KEPT]:
        old.unlink()


def versions_of(path: str | Path) -> list:
    """Every kept version of a sheet, the oldest first; the last one is what was written last.

    path: the sheet's file.
    Returns list of Path.
    """
    path = Path(os.path.realpath(path))
    return sorted(p for p in (path.parent / EARLIER / path.stem).glob("*.toml") if p.stem.isdigit())
