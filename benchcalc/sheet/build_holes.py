"""The part of a build that is drilled away: rings of holes round a tube."""

from dataclasses import dataclass

from .key import key


@dataclass(frozen=True)
class HeatBreak:
    """Rings of holes drilled round a tube to hold heat back; from_m: where they begin, its edge nearer to the tip.

    hole_m: diameter of the drill. ring_spacing_m: from middle to middle. slot_m: each hole drawn out round the tube.
    """

    id: str = key("id", "name of the heat break", "text", default="")
    on: str | None = key("on", "tube the holes are in (its id)", "text part")
    from_m: float | None = key("from", "holes begin, from the tip", "m", 0, 2)
    rings: int = key("rings", "rings of holes", "count whole", 0, 12, default=1)
    holes: int | None = key("holes", "holes in one ring", "count whole", 0, 60)
    hole_m: float | None = key("diameter", "diameter of the drill", "m", 2e-4, 0.05)
    ring_spacing_m: float | None = key("spacing", "ring to ring, from middle to middle", "m", 2e-4, 0.2)
    staggered: bool = key("staggered", "each ring's holes face the webs of the next", "flag", default=True)
    slot_m: float = key("slot", "each hole drawn out round the tube by", "m", 0, 0.2, default=0.0)
