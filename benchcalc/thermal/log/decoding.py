"""From the bytes of a log to its text, whatever it was saved as."""

from ...basics.fault import fault
from .cells import Remark

LARGEST_BYTES = 20_000_000
MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)


def decoded(data, name):
    """The text of a file, whatever it was saved as.

    data: bytes. name: for messages.
    Returns (text, remarks).  Byte order marks tell UTF-8 or UTF-16; else UTF-8; else Latin-1, which is said.
    Raises Fault: empty, larger than 20 MB, not a text.
    """
    if len(data) > LARGEST_BYTES:
        raise too_large(name, len(data))
    if not data.strip():
        raise fault(name, "", "is empty.", do="A log needs lines with a time and a temperature.")
    for mark, code in MARKS:
        if data.startswith(mark):
            return data.decode(code, errors="replace"), (Remark(0, f"byte order mark read ({code})"),)
    code = _wide(data[:4000])
    if code:
        return data.decode(code, errors="replace"), (Remark(0, f"read as {code}: every other byte is empty"),)
    if b"\x00" in data[:4000]:
        raise fault(
            name, "", "is not a text file.", "It may be a spreadsheet's own format.", "Save it as CSV and come back."
        )
    try:
        return data.decode("utf-8"), ()
    except UnicodeDecodeError:
        return data.decode("latin-1"), (
            Remark(0, "not UTF-8: read as Latin-1, so that signs such as the degree stay readable"),
        )


def _wide(start):
    """Encoding of a text without a mark whose letters take two or four bytes each, or None.  start: first bytes."""
    for width, codes in ((4, ("utf-32-le", "utf-32-be")), (2, ("utf-16-le", "utf-16-be"))):
        even = start[: len(start) // width * width]
        for code, place in zip(codes, (0, width - 1)):
            empty = [even[k::width].count(0) for k in range(width) if k != place]
            if even and all(n > 0.9 * len(even) / width for n in empty) and not even[place::width].count(0):
                return code
    return None


def too_large(name, size_bytes):
    """The Fault for a file that is too large.  name: of the file. size_bytes: its size."""
    return fault(
        name,
        f"{size_bytes / 1e6:.0f} MB",
        f"is larger than {LARGEST_BYTES / 1e6:.0f} MB, the most that is read.",
        "A warm-up has a few thousand readings.",
        "Cut out the part you want, or keep every tenth line.",
    )
