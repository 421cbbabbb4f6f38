"""What the benches of a class read: one small CSV file a bench, one table, the spread set against the band."""

import csv
import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ...basics.band import Band
from ...basics.fault import Fault, fault
from ...basics.names import suffix_of
from ...basics.quantity import parse
from ...sheet.store import look
from .class_folder import class_file, put_class_file, read_class

FOLDER = "readings"
COLUMNS = ("row", "reading")
LARGEST_FILE = 200_000  # characters
MOST_ROWS = 500


@dataclass(frozen=True)
class BenchReading:
    """A reading that every bench takes.  row: short name. what: in words. key: glossary name. expected: Band, SI.
    quick: whether a bench may leave it out. length_m: of the piece, where watts are drawn against it."""

    row: str
    what: str
    key: str
    expected: Band
    quick: bool = False
    length_m: float = float("nan")


@dataclass(frozen=True)
class Spread:
    """What came of one reading.  asked: BenchReading. benches: names. values: SI, one a bench. outside: benches that
    lie outside the band."""

    asked: BenchReading
    benches: tuple
    values: np.ndarray
    outside: tuple

    def place_of(self, bench: str) -> str:
        """Where one bench lies: "inside", "outside, too low", "outside, too high", or "not read".  bench: its name, as
        its file says it."""
        if bench not in self.benches:
            return "not read, only for the quick" if self.asked.quick else "not read"
        if bench not in self.outside:
            return "inside"
        value = self.values[self.benches.index(bench)]
        return f"outside, too {'low' if value < self.asked.expected.low else 'high'}"

    @property
    def middle(self) -> float:
        """Median of the benches, SI; nan without any."""
        return float(np.median(self.values)) if self.values.size else float("nan")


def readings_file(bench: str, folder: str | Path | None = None) -> Path:
    """Where a bench's readings are kept.  bench: its name. folder: None for readings/ in the folder of the class."""
    return class_file(FOLDER, bench, folder)


def keep_readings(bench: str, texts: dict[str, str], folder: str | Path | None = None) -> Path:
    """Keep what a bench typed.

    bench: its name. texts: row -> text with its unit. folder: as `readings_file`.
    Returns the file's path.  Raises Fault: it cannot be written.
    """
    path, out = readings_file(bench, folder), io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows((row, text) for row, text in texts.items() if text.strip())
    return put_class_file(path, out.getvalue())


def texts_in(path: str | Path) -> dict[str, str]:
    """What stands in a bench's file, row -> text.

    path: file name.
    Raises Fault: no such columns, too long.
    """
    text = look(path).text
    if len(text) > LARGEST_FILE:
        raise fault(str(path), "", "is far too long for a bench's readings.")
    found = csv.DictReader(io.StringIO(text))
    if found.fieldnames is None or not set(COLUMNS) <= {str(f).strip() for f in found.fieldnames}:
        raise fault(
            str(path), "", f"needs the columns {' and '.join(COLUMNS)}.", do="Keep them in the page's own form."
        )
    texts = {}
    for number, row in enumerate(found, 2):
        if number > MOST_ROWS:
            raise fault(str(path), "", f"has more than {MOST_ROWS} rows.")
        tidy = {str(k).strip(): (v or "") for k, v in row.items() if k is not None and not isinstance(v, list)}
        texts[tidy.get("row", "").strip()] = tidy.get("reading", "").strip()
    return texts


def read_one(asked: BenchReading, text: str, before: str = "") -> float:
    """A reading as typed, SI.

    asked: BenchReading. text: number and unit. before: words before the row's name in a complaint.
    Raises Fault: it cannot be read.
    """
    return parse(text, suffix_of(asked.key), where=f"{before}{asked.row}").nominal


def not_yet(asked: list[BenchReading], texts: dict[str, str]) -> list[str]:
    """Rows that a bench still owes: empty or unreadable, and not only for the quick.

    asked: list of BenchReading. texts: of texts_in.
    """
    left = []
    for one in asked:
        try:
            done = bool(texts.get(one.row)) and np.isfinite(read_one(one, texts[one.row]))
        except Fault:
            done = False
        if not (done or one.quick):
            left.append(one.row)
    return left


@dataclass(frozen=True)
class SettingWatts:
    """Watts of one setting.  name: "A1". length_m: of the piece. expected: Band, W. benches: names. watts: W, one a
    bench that read both volts and amps."""

    name: str
    length_m: float
    expected: Band
    benches: tuple
    watts: np.ndarray


def watts_read(spreads: list[Spread]) -> list[SettingWatts]:
    """Volts times amps of every setting that asks for both.

    spreads: list of Spread, in the order of the worksheet.
    """
    pairs = {}
    for spread in spreads:
        pairs.setdefault(spread.asked.row.split()[0], {})[spread.asked.key] = spread
    found = []
    for name, pair in pairs.items():
        if set(pair) != {"load_v", "load_a"}:
            continue
        volts, amps = (dict(zip(pair[k].benches, pair[k].values, strict=True)) for k in ("load_v", "load_a"))
        both = tuple(bench for bench in volts if bench in amps)
        v, a = pair["load_v"].asked.expected, pair["load_a"].asked.expected
        band = Band(v.nominal * a.nominal, v.low * a.low, v.high * a.high)
        watts = np.array([volts[b] * amps[b] for b in both])
        found.append(SettingWatts(name, pair["load_v"].asked.length_m, band, both, watts))
    return found


def class_readings(asked: list[BenchReading], folder: str | Path | None = None) -> tuple[list[Spread], list[str]]:
    """Every bench's readings, row by row.

    asked: list of BenchReading. folder: as `readings_file`.
    Returns (list of Spread, complaints): a text that cannot be read is complained of and left out, never guessed.
    """
    benches, told = read_class(FOLDER, texts_in, folder)
    spreads = []
    for one in asked:
        names, values = [], []
        for bench, texts in benches.items():
            if not texts.get(one.row):
                continue
            try:
                values.append(read_one(one, texts[one.row], f"bench {bench}, "))
                names.append(bench)
            except Fault as complaint:
                told.append(str(complaint))
        values = np.array(values)
        outside = tuple(n for n, v in zip(names, values, strict=True) if not one.expected.low <= v <= one.expected.high)
        spreads.append(Spread(one, tuple(names), values, outside))
    return spreads, told


def verdict_of(spread: Spread) -> str:
    """What the class may learn from one row, in a sentence.

    spread: Spread.
    """
    count = spread.values.size
    if not count:
        return "no reading yet; only for the quick" if spread.asked.quick else "no reading yet"
    if count < 3:
        return f"{count - len(spread.outside)} of {count} inside; too few benches for a spread"
    wide = float(np.ptp(np.percentile(spread.values, (10, 90))))
    band = spread.asked.expected.high - spread.asked.expected.low
    if not spread.outside:
        return f"all {count} within the band; most of them within {wide / band:.0%} of its width" if band else "all "
        "alike"
    inside = count - len(spread.outside)
    middle_in = spread.asked.expected.low <= spread.middle <= spread.asked.expected.high
    why = "look at those benches" if middle_in else "the whole class is off: the band's own assumptions are in question"
    return f"{inside} of {count} within the band; {why}"
