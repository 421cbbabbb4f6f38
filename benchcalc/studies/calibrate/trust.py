"""Whether a calibration may be believed: the model follows its readings, and no value was pushed past its sheet."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.names import said_number, say
from .calibrate import MISFIT_LIMIT, Calibration
from .sensor_model import ends
from .unknowns import POWER

AT_END = 0.9  # share of the way to the bound of the search, past the band: from there a value is pushed, not found
NOT_FOLLOWED = (
    "the model cannot follow these readings, so they teach it nothing: look for a wrong place, power step or attachment"
)
SITS = "how the probe really sits (attached = ...): one that reads low and watts that are missing look alike"
WATTS = "the volts and amps of that day"


@dataclass(frozen=True)
class Pushed:
    """A value that the fit could only take past its band to the bound of the search.  kind: "probe", "watts" or
    "tool". words: with the value found and what was allowed. low: whether it was pushed down."""

    kind: str
    words: str
    low: bool = False


def pushed(found: Calibration) -> tuple:
    """What readings have pushed to the end of what is allowed: probes first, then the watts, then the tool.

    found: Calibration.
    Returns tuple of Pushed, empty for a calibration that may be believed.  Where anything is pushed, a probe past its
    own band stands among them: one that reads low and watts that are missing look alike.
    """
    low, high = ends(replace(found.trial, unknowns=tuple(found.unknowns[i] for i in found.fitted)))
    at = [float(np.median(found.after[:, i])) for i in found.fitted]
    sure, probes = False, []
    for j, p in enumerate(found.trial.probes):
        row, share = p.low_share, float(np.median(found.low_shares[:, j]))
        place = (share - (row["low"] + row["high"]) / 2) / ((row["high"] - row["low"]) / 2)
        sure |= _is_pushed(place, low[len(at) + 2 * j], high[len(at) + 2 * j])
        if place > 1:
            allowed = f"{100 * row['low']:.0f} to {100 * row['high']:.0f} % as {p.attached}"
            probes.append(Pushed("probe", f"{p.name} reads low by {100 * share:.0f} % of the rise ({allowed})"))
    tool = []
    for k, i in enumerate(found.fitted):
        unknown = found.unknowns[i]
        if not _is_pushed(at[k], low[k], high[k]):
            continue
        if unknown.path == POWER:
            at_w, low_w, high_w = (float(found.trial.coil.coil_w * unknown.value(x)) for x in (at[k], -1.0, 1.0))
            allowed = f"{said_number('coil_w', low_w)} to {say('coil_w', high_w)}"
            tool.insert(0, Pushed("watts", f"{say('coil_w', at_w)} in the coil ({allowed})", at[k] < 0))
        else:
            tool.append(Pushed("tool", f"{unknown.words} past its band"))
    return (*probes, *tool) if sure or tool else ()


def _is_pushed(place, low, high):
    end = high if place > 0 else low
    return abs(place) > 1 and abs(end) > 1 and place / end >= AT_END


def distrust(found: Calibration) -> str:
    """Why nothing of a calibration may be taken over, in a sentence without its stop; "" where it may.

    found: Calibration.
    """
    if found.misfit > MISFIT_LIMIT:
        return NOT_FOLLOWED
    wrong = pushed(found)
    if not wrong:
        return ""
    look = []
    for one in wrong:
        look += {
            "probe": [SITS],
            "watts": [WATTS, SITS] if one.low else [WATTS],
            "tool": ["a part or joint that is not on the sheet"],
        }[one.kind]
    return (
        f"these readings fit only with values past what the sheet allows: {'; '.join(p.words for p in wrong)}. "
        f"Something else is wrong, so nothing is taken over: look first at {', then at '.join(dict.fromkeys(look))}"
    )
