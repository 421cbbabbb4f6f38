"""Sections of a sheet about holding a temperature: the controller, its sensor."""

from dataclasses import dataclass

from .key import key

SWITCHES = ("burst", "switched DC", "relay")
FIXED = ("pressed bead", "peened or embedded")


@dataclass(frozen=True)
class Control:
    """How a temperature is held: law, set point as the controller reads it, its settings, the switch, the cut-out.

    proportional_k: kelvin below the set point at which the power is full. touch: what the tip touches in use.
    """

    kind: str | None = key("kind", "how the controller switches", ("on-off", "proportional-integral"))
    set_c: float | None = key("set", "set point, as the controller reads it", "c", 20, 900)
    band_k: float | None = key("band", "on-off: how far apart it switches on and off", "k", 0, 100)
    window_s: float | None = key("window", "window: how long one round of switching takes", "s", 0.02, 600)
    proportional_k: float | None = key("proportional_band", "full power so far below the set point", "k", 0.1, 2000)
    integral_s: float | None = key("integral", "integral time: how fast it takes up what is left", "s", 0.1, 100000)
    way: str | None = key("way", "what switches", SWITCHES)
    touch: str | None = key("touch", "what the tip touches in use", ("joint", "insert", "cold wax"))
    cut_out_c: float | None = key("cut_out", "rating of the cut-out that is fitted", "c", 40, 500)
    cut_out_at_m: float | None = key("cut_out_at", "place of the cut-out, from the tip", "m", 0, 2)
    cut_out_hold_c: float | None = key("cut_out_hold", "holding temperature of the cut-out, by its maker", "c", 40, 500)

    @property
    def law(self):
        """The kind of law; proportional-integral, with settings of the tool's own, where the sheet is silent."""
        return self.kind or "proportional-integral"


@dataclass(frozen=True)
class Sensor:
    """The controller's sensor: kind, class, part and place, attachment, lag, what a broken wire reads as."""

    kind: str | None = key("kind", "kind of sensor", ("type K", "Pt100"))
    grade: str | None = key("class", "its tolerance class, of data/sensor_tolerances.csv", "text")
    on: str | None = key("on", "part that it sits on (its id)", "text part")
    at_m: float | None = key("at", "place of the sensor, from the tip", "m", 0, 2)
    attached: str | None = key("attached", "how it is attached", FIXED)
    lag_s: float | None = key("lag", "its time constant in place: two thirds of a step", "s", 0, 600)
    broken: str | None = key("broken_reads", "what the controller makes of a broken wire", ("hot", "cold"))

    @property
    def sort(self):
        """Kind of sensor; type K where the sheet is silent."""
        return self.kind or "type K"

    @property
    def tolerance_class(self):
        """Its class; the wider one that is sold unmarked where the sheet is silent."""
        return self.grade or ("2" if self.sort == "type K" else "B")

    @property
    def fixed(self):
        """How it is attached; a bead pressed on, the worst of them, where the sheet is silent."""
        return self.attached or "pressed bead"

    @property
    def broken_as(self):
        """What a broken wire reads as; cold, the dangerous one, where the sheet is silent."""
        return self.broken or "cold"


def switch_of(build):
    """What switches: the sheet's own word, else whole cycles of a triac, or a transistor on direct current.

    build: Build with a controller.
    """
    return build.control.way or ("switched DC" if build.supply.output == "DC" else "burst")
