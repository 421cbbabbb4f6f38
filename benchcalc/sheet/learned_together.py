"""What was learned together moves together: samples of inputs that one set of readings could not tell apart."""

import numpy as np

LEARNED = "learned"
NEGATIVE = -0.05  # an eigenvalue below this is no rounding: such numbers cannot all go together


def rows_of(entries):
    """How learned inputs go with each other.

    entries: of Learned, in the order of the sheet.
    Returns array (k, k), 1 on its diagonal.  Raises ValueError with a sentence: not a number for each entry above, not
    within -1 to 1, or numbers that cannot all be true.
    """
    k = len(entries)
    found = np.eye(k)
    for i, entry in enumerate(entries):
        told = (entry.goes_with or "").replace(",", " ").split()
        try:
            row = [float(word) for word in told]
        except ValueError:
            raise ValueError(f"{i + 1}: should be plain numbers.") from None
        row = row[:-1] if len(row) == i + 1 and row[-1] == 1 else row  # with itself
        if told and len(row) != i:
            raise ValueError(f"{i + 1}: has {len(row)} numbers, and {i} stand above it: one for each, in their order.")
        if not all(-1 <= x <= 1 for x in row):
            raise ValueError(f"{i + 1}: should lie within -1 to 1.")
        found[i, : len(row)] = found[: len(row), i] = row
    if k and np.linalg.eigvalsh(found)[0] < NEGATIVE * k:
        raise ValueError(f"{k}: these numbers cannot all be true together.")
    return found


def together(build, place):
    """Places of the samples, those of what was learned put in such an order that they go with each other as learned.

    build: Build. place: dict of path -> array (n,), -1 to 1, each apart from the others.
    Returns dict of path -> array (n,), with the same values in each, of the learned ones alone.
    Method: Iman and Conover, Commun. Statist. Simul. Comput. 11 (1982) 311, with normal scores.
    """
    held = [
        (i, e.path)
        for i, e in enumerate(build.learned)
        if e.path in place and e.path in build.known and build.known[e.path].how == LEARNED
    ]
    if len(held) < 2:
        return {}
    from scipy.special import ndtri

    at = [i for i, _ in held]
    size, turn = np.linalg.eigh(rows_of(build.learned)[np.ix_(at, at)])
    mixing = turn * np.sqrt(np.maximum(size, 0.0))
    columns = np.column_stack([place[path] for _, path in held])
    rank = np.argsort(np.argsort(columns, axis=0), axis=0)
    scores = ndtri((rank + 0.5) / len(columns)) @ mixing.T
    order = np.argsort(np.argsort(scores, axis=0), axis=0)
    moved = np.take_along_axis(np.sort(columns, axis=0), order, axis=0)
    return {path: moved[:, j] for j, (_, path) in enumerate(held)}
