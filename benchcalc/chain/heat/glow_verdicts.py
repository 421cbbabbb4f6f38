"""The verdicts on what is seen and how a surface ages: glow of a bare wire, finish of hot stainless parts."""

import numpy as np

from ...basics.tables import source_words
from ...materials.finish import SCALES_C, TINTS_C, finish_in_service
from ...materials.glow import threshold
from ...sheet.change import item
from ..verdict import Limit, judge

BARE = "bare wire in free air"
WHY = {
    "in the dark": "Above this a red glow can be seen in a dark room; it is hot enough to light paper long before.",
    "in daylight": "Above this it glows even by day; a wire that shows nothing in daylight can still burn, melt and "
    "light.",
}


def glow_checks(build, heat, bands):
    """Whether a bare wire can be seen to glow, in the dark and by day.

    build: Build. heat: HeatPart. bands: path -> Band.
    Returns list of Verdict, empty for any other mounting; advice, since a glow may be wanted.
    """
    if build.coil is None or build.coil.mounting != BARE:
        return []
    made = []
    for surroundings, why in WHY.items():
        first_c, source_id = threshold(surroundings)
        made.append(
            judge(
                f"bare wire, glow {surroundings}",
                "wire_c",
                heat.wire_c,
                Limit(first_c, "at most", source_words(source_id), advice=True),
                why=why,
                band=bands.get("heat.wire_c"),
            )
        )
    return made


def finish_checks(build, heat):
    """Parts whose stated finish will not last at the temperature they run at.

    build: Build. heat: HeatPart.
    Returns list of Verdict (advice), only for finishes that change; empty for builds with arrays.
    """
    made = []
    for id, hottest in zip(heat.part_ids, heat.part_hottest_c):
        part = item(build.part, id)
        if part.finish is None or part.material is None or np.ndim(hottest) or not np.isfinite(hottest):
            continue
        ends = finish_in_service(part.material, part.finish, hottest)
        if ends.changed:
            limit_c = SCALES_C if hottest > SCALES_C else TINTS_C
            made.append(
                judge(
                    f"finish of the {id}",
                    "hottest_c",
                    hottest,
                    Limit(limit_c, "at most", source_words("OWN-JUDGEMENT"), advice=True),
                    why=(
                        f"It is stated as {part.finish}, but in service it becomes {ends.finish} (emissivity "
                        f"{ends.low:g} to {ends.high:g}) and sheds more heat: state the finish it will have."
                    ),
                )
            )
    return made
