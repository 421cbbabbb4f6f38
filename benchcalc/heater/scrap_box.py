"""What in the box works: every wire tried for one job, wires side by side and end to end, doubled tails."""

from dataclasses import dataclass

import numpy as np

from .supply import higher_resistance, load_current
from .wire import length_for, surface_load

REASONS = (
    "works",
    "the supply cannot give this power",
    "not enough wire",
    "surface load past guidance",
    "too long to wind in the room",
    "draws more than the supply's limit",
)


@dataclass(frozen=True)
class Tried:
    """One wire for the job: heated length, current, surface load, winding length with touching-free turns,
    reason (one of REASONS) and works."""

    id: str
    length_m: float
    load_a: float
    surface_load_w_m2: float
    winding_m: float
    reason: str
    works: bool


@dataclass(frozen=True)
class BoxWire:
    """A wire in the box.

    diameter_m: of a round wire, or thickness of a ribbon width_m wide. have_m: length there is, inf if not known.
    """

    id: str
    linear_ohm_per_m: float
    diameter_m: float
    hot_factor: float = 1.0
    have_m: float = np.inf
    width_m: float | None = None

    @property
    def edge_m(self):
        """Circumference that sheds heat."""
        return np.pi * self.diameter_m if self.width_m is None else 2 * (self.width_m + self.diameter_m)

    @property
    def across_m(self):
        """Room that a turn takes along the former."""
        return self.diameter_m if self.width_m is None else self.width_m


@dataclass(frozen=True)
class WindingJob:
    """What a wire of the box is to do.

    wanted_w: power in the coil. open_v, source_ohm: the supply, tails included. most_w_m2: surface load to keep
    below. former_m: outside of former and insulation. room_m: room along it, one layer. limit_a: current limit, or
    None. pitch_ratio: pitch over wire diameter, at least 1.2.
    """

    wanted_w: float
    open_v: float
    source_ohm: float
    most_w_m2: float
    former_m: float
    room_m: float
    limit_a: float | None = None
    pitch_ratio: float = 1.5


def try_pieces(pieces, job):
    """All wires ranked for one job: those that work first, then by how gently the wire is driven.

    pieces: BoxWire each. job: WindingJob.
    Returns list of Tried.  The first thing that fails is the reason.
    """
    made = []
    for piece in pieces:
        with np.errstate(invalid="ignore"):
            hot_ohm = float(higher_resistance(job.open_v, job.source_ohm, job.wanted_w))
        length_m = float(length_for(hot_ohm, piece.hot_factor, piece.linear_ohm_per_m))
        load_a = float(load_current(job.open_v, job.source_ohm, hot_ohm))
        cold_a = float(load_current(job.open_v, job.source_ohm, hot_ohm / piece.hot_factor))  # at switch-on
        load_w_m2 = float(surface_load(job.wanted_w, piece.edge_m, length_m))
        turn_m = np.hypot(np.pi * (job.former_m + piece.diameter_m), job.pitch_ratio * piece.across_m)
        winding_m = float((length_m / turn_m * job.pitch_ratio + 1) * piece.across_m)
        fails = (
            not np.isfinite(hot_ohm),
            length_m > piece.have_m,
            load_w_m2 > job.most_w_m2,
            winding_m > job.room_m,
            job.limit_a is not None and max(load_a, cold_a) > job.limit_a,
        )
        reason = next((r for r, bad in zip(REASONS[1:], fails, strict=True) if bad), REASONS[0])
        made.append(Tried(piece.id, length_m, load_a, load_w_m2, winding_m, reason, reason == REASONS[0]))
    return sorted(
        made, key=lambda t: (not t.works, t.surface_load_w_m2 if t.surface_load_w_m2 == t.surface_load_w_m2 else np.inf)
    )


def in_series(one_ohm, other_ohm):
    """Two wires end to end: ohms add, the higher one takes more of the heat.

    one_ohm, other_ohm: resistances.
    Returns total_ohm.  Equation: Kirchhoff's voltage law.
    """
    total_ohm = one_ohm + other_ohm
    return total_ohm


def side_by_side(one_ohm, other_ohm):
    """Two wires in parallel: the lower one takes more of the heat.

    one_ohm, other_ohm: resistances above 0.
    Returns total_ohm.  Equation: Kirchhoff's current law.
    """
    total_ohm = one_ohm * other_ohm / (one_ohm + other_ohm)
    return total_ohm


def share_watts(total_w, one_ohm, other_ohm, *, in_line):
    """What each of two coils takes of the watts in both.

    total_w: into both. one_ohm, other_ohm: hot, above 0. in_line: True end to end, False side by side.
    Returns (one_w, other_w): end to end as their ohms are, side by side the other way round.
    Equation: Joule's law with one current, or one voltage, for both.
    """
    share = (one_ohm if in_line else other_ohm) / (one_ohm + other_ohm)
    return total_w * share, total_w * (1 - share)


def tail_resistance(linear_ohm_per_m, tail_m, strands):
    """Both tails, doubled or trebled back on themselves and twisted.

    linear_ohm_per_m: of the single wire. tail_m: length of one tail. strands: 1, 2 or 3.
    Returns tails_ohm.  Twisting adds a few per cent of length (not counted).
    """
    tails_ohm = 2 * tail_m * linear_ohm_per_m / strands
    return tails_ohm


def tail_heat(load_a, tails_ohm):
    """Heat made in both tails: it goes in behind the coil, next to the handle.

    load_a: current. tails_ohm: both tails.
    Returns tails_w.  Equation: Joule's law.
    """
    tails_w = load_a**2 * tails_ohm
    return tails_w
