"""The part of a build that is drilled away: rings of holes round a tube."""

from dataclasses import dataclass


@dataclass(frozen=True)
class HeatBreak:
    """Rings of holes drilled round a tube to hold heat back; from_m: where they begin, its edge nearer to the tip.

    hole_m: diameter of the drill. ring_spacing_m: from middle to middle. slot_m: each hole drawn out round the tube.
    """

    id: str = ""
    on: str | None = None
    from_m: float | None = None
    rings: int = 1
    holes: int | None = None
    hole_m: float | None = None
    ring_spacing_m: float | None = None
    staggered: bool = True
    slot_m: float = 0.0
