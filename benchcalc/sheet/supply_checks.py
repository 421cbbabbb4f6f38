"""Checks of the supply and its soak test that need more than one key."""

from ..heater.soak import CLASSES
from ..heater.supply import line_through
from .readings import contradiction


def check_supply(supply, complain, known):
    """Complain of a supply whose keys or readings do not fit together.

    supply: Supply or None. complain, known: as cross_check.
    Returns None.
    """
    if supply is None:
        return
    if supply.kind is None:
        complain("supply", None, "kind", "", "is missing.", do='Write e.g. kind = "transformer".')
    _rectifier(supply, complain)
    good = []
    for i, r in enumerate(supply.reading):
        if r.volts_v is None or r.amps_a is None:
            complain(
                "supply.reading",
                i,
                "",
                "",
                "needs both volts and amps (0 amps: no load), or two of volts, amps, watts and ohms of its load.",
            )
        elif r.amps_a > 0 and contradiction(r):
            complain("supply.reading", i, "", contradiction(r), "cannot all be of one reading.")
        else:
            good.append((r.amps_a, r.volts_v, i))
    good.sort()
    if len(good) > 1 and _rises(good, known):
        (low_a, low_v, _), (high_a, high_v, i) = good[0], max(good[1:], key=lambda g: g[1])
        complain(
            "supply.reading",
            i,
            "volts",
            f"{high_v:g} V at {high_a:g} A",
            f"is above {low_v:g} V at {low_a:g} A: volts cannot rise with the load.",
            "The columns may be swapped, a digit misread, or the mains rose in between.",
            "Take both readings again, one right after the other.",
        )
    if len(good) > 1 and len({a for a, _, _ in good}) == 1 and good[0][0] > 0:
        complain(
            "supply.reading",
            good[-1][2],
            "amps",
            f"{good[0][0]:g} A",
            "is the current of every reading: a line needs two different loads.",
        )


def check_other(i, supply, complain):
    """Complain of another supply of the box whose keys do not fit together.

    i: its number. supply: OtherSupply. complain: as cross_check.
    Returns None.
    """
    if supply.kind is None:
        complain("other_supply", i, "kind", "", "is missing.", do='Write e.g. kind = "transformer".')
    if (supply.volts_v is None) != (supply.amps_a is None):
        complain("other_supply", i, "volts", "", "and amps belong together: both are read with one load.")
    _rectifier(supply, lambda _, __, *words, **more: complain("other_supply", i, *words, **more))


def _rectifier(supply, complain):
    """A rectifier turns a transformer's alternating volts into direct ones, and nothing else does."""
    if supply.rectifier in (None, "none"):
        if supply.rectifier == "none" and supply.kind == "transformer" and supply.output == "DC":
            complain(
                "supply",
                None,
                "rectifier",
                "none",
                "and output = DC do not fit a transformer, which gives alternating volts.",
                "There may be a rectifier in the case.",
                'Read on the alternating range and write output = "AC", or say which rectifier there is.',
            )
        return
    if supply.kind is not None and supply.kind != "transformer":
        complain(
            "supply",
            None,
            "rectifier",
            supply.rectifier,
            f"does not go with a {supply.kind}, which gives direct volts by itself.",
            do="Leave it out; an old plug-in block with an iron core inside is a transformer here.",
        )
    elif supply.output == "AC":
        complain(
            "supply",
            None,
            "rectifier",
            supply.rectifier,
            'gives direct volts, and the sheet says output = "AC".',
            "The readings may have been taken before the rectifier.",
            "Read volts and amps behind it, on the direct range, or leave it out.",
        )


def check_soak(soak, complain):
    """Complain of soak readings that cannot be.

    soak: Soak or None. complain: as cross_check.
    Returns None.
    """
    if soak is None:
        return
    if soak.cold_ohm is None and (soak.cooling or soak.hour):
        complain(
            "soak",
            None,
            "cold_ohm",
            "",
            "is missing: a rise is counted from the cold winding.",
            do="Read the primary at the pins of the unplugged plug, after a night without use.",
        )
        return
    for section, readings, when in (("soak.cooling", soak.cooling, "after_s"), ("soak.hour", soak.hour, "loaded_s")):
        word = {"after_s": "seconds", "loaded_s": "hours"}[when]
        seen = set()
        for i, r in enumerate(readings):
            if getattr(r, when) is None or r.resistance_ohm is None:
                complain(section, i, "", "", f"needs both {word} and ohm.")
            elif r.resistance_ohm <= soak.cold_ohm:
                complain(
                    section,
                    i,
                    "ohm",
                    f"{r.resistance_ohm:g} ohm",
                    f"is not above the cold {soak.cold_ohm:g} ohm: copper gains 0.4 % for each kelvin.",
                    "The two readings may be swapped, or the meter's leads or range changed.",
                    "Read both with the same meter, range and leads.",
                )
            elif getattr(r, when) in seen:
                complain(section, i, word, f"{getattr(r, when):g} s", "stands twice: each reading has its own time.")
            seen.add(getattr(r, when))
    if soak.winding_class is not None and soak.winding_class not in CLASSES:
        complain(
            "soak",
            None,
            "class",
            f"{soak.winding_class:g}",
            "is no class here: one of " + ", ".join(map(str, CLASSES)) + ".",
            "Classes go by their number; letters mean different things.",
            "Leave it out for a transformer without a mark: 105 is then taken.",
        )


def _rises(good, known):
    """Whether the fitted line rises with the load by more than the meter may be wrong."""
    amps, volts = [g[0] for g in good], [g[1] for g in good]
    if amps[-1] <= amps[0]:
        return False
    _, source_ohm = line_through(volts, amps)
    errors = [known.get(f"supply.reading.{i}.volts_v") for _, _, i in good]
    error_v = max(((k.high - k.low) / 2 for k in errors if k), default=0.0)
    return -source_ohm * (amps[-1] - amps[0]) > error_v
