"""What the heat link gives: the temperatures of a settled tool, or why there are none."""

from dataclasses import dataclass

import numpy as np

from ..parts import NAN


@dataclass(frozen=True)
class HeatPart:
    """Temperatures of the settled tool.  part_ids and part_hottest_c go together; model and temps_c are
    for pictures.  refused: why nothing was worked out, or "". beyond: materials that are hotter or colder
    than their conductivity table, whose end value was held. tails_c, joint_c, carried_w: hottest place of the tails,
    their joint to the cable, heat they carry into the handle. finger_c: tube 10 mm before the handle. break_c: hottest
    beginning of a heat break. groups: of many designs that share no structure, (numbers of the designs (k,), HeatPart
    of them) for each that do."""

    tip_c: float
    wire_c: float
    sheath_c: float
    excess_k: float
    entry_c: float
    bore_c: float
    grip_c: float
    work_c: float
    balance_w: float
    part_ids: tuple
    part_hottest_c: tuple
    model: object
    temps_c: np.ndarray | None
    refused: str = ""
    beyond: tuple = ()
    tails_c: float = NAN
    joint_c: float = NAN
    carried_w: float = NAN
    finger_c: float = NAN
    break_c: float = NAN
    groups: tuple = ()

    def hottest(self, id):
        """Hottest place of a part, degC.

        id: part's id.
        """
        return self.part_hottest_c[self.part_ids.index(id)]

    def at(self, id, place_m):
        """Temperature of a part at a place, degC; that of its nearer end for a place beyond it.

        id: part's id. place_m: m from the tip. Of one settled tool.
        """
        return float(np.interp(place_m, *self.model.along(id, self.temps_c)))


def refused_heat(why):
    """A heat part that says why nothing was worked out.

    why: sentence.
    Returns HeatPart with nan everywhere.
    """
    return HeatPart(*[NAN] * 9, (), (), None, None, why)
