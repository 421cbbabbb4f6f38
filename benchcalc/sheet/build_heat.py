"""The part of a build that no key of a sheet says: what the heat model assumes."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Heat:
    """What the heat model assumes where no key of a sheet says it; see data/defaults.csv."""

    gap_eccentricity: float | None = None
    loose_gap_m: float | None = None
    layer_emissivity: float | None = None
    slack_m: float | None = None
    excess_scale: float | None = None
    screw_point_w_k: float | None = None
    convection: float | None = None
    rear_convection: float | None = None
    rear_length_m: float | None = None
    leads_to_tube_w_mk: float | None = None
    work_w_m2k: float | None = None
    wood_along_grain: float | None = None
    wood_contact_w_m2k: float | None = None
    stored_scale: float = 1.0
    shine_place: float = 0.0
    wire_metal_place: float = 0.0
    grip_w_m2k: float = 0.0
    bore_open: float = 1.0
