"""Settings of a controller from the tool's warm-up, for a build alone: its parts are worked out and kept."""

from dataclasses import replace
from functools import lru_cache

from ..chain.control.standing import Standing
from ..chain.control.tuned import SeenWarmUp, seen_warm_up, settings_of
from ..chain.parts import Keyed
from ..chain.workings import chain
from ..sheet.build import Build
from ..sheet.build_control import Sensor


def tool_parts(build):
    """Supply, wire, coil and heat of a build; they do not depend on how it is held, and are kept.

    build: Build (floats).
    Returns tuple.
    """
    return _tool(Keyed(repr(replace(build, control=None, sensor=Sensor(), known={})), build))


@lru_cache(maxsize=4)
def _tool(kept):
    return tuple(chain(kept.thing)[:4])


def warm_up_seen(build: Build, standing: Standing) -> SeenWarmUp:
    """The warm-up that settings are taken from, as `seen_warm_up`.

    build: Build with a controller. standing: Standing of the tool.
    """
    return seen_warm_up(build, tool_parts(build), standing)


def tuning_of(build, standing, smooth=None):
    """SIMC settings from the tool's warm-up as its sensor sees it, as `settings_of`.

    build: Build with a controller. standing: Standing of the tool. smooth: as `settings_of`.
    """
    return settings_of(build, tool_parts(build), standing, smooth)
