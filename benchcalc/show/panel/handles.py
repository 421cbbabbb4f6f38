"""The handle of a slider: the widget that is moved, beginning where the sheet stands."""

import ipywidgets as widgets

from ...basics.names import say, shown
from ...sheet.schema import key_of
from .sliders import Choice, pairs, scale_of, start_of, to_si

LONGEST = 28  # letters of an option that fit beside a label of full width, in a window of 1280 pixels


UNTOLD = ""  # stands in a list for what a sheet does not say: a list shows None as nothing chosen


def shown_value(value):
    """What stands in a list for a value of a Choice.  value: text, flag, or None."""
    return UNTOLD if value is None else value


def chosen_value(value):
    """The value of a Choice that stands in a list.  value: as shown_value gives it."""
    return None if value == UNTOLD else value


def handle_value(s, build, value):
    """Where a handle stands for a value of the sheet.  s: Slider or Choice. build: Build. value: SI, or text."""
    if isinstance(s, Choice):
        return shown_value(value)
    return round(float(shown(s.key, value, units=build.units, degrees=build.degrees)), 9)


def stands_at(s, build, value):
    """The value of the sheet for a handle: SI, or text.  s, build: as `handle_value`. value: where it stands."""
    return chosen_value(value) if isinstance(s, Choice) else to_si(s, build, value)


def _own_words(path, value, build):
    """What the sheet says where it is none of the options, with its unit."""
    if not isinstance(value, float):
        return str(value)
    return say(path.rpartition(".")[2], value, units=build.units, degrees=build.degrees)


def handle_of(s, build):
    """The widget of a slider, with `.start`, where it stands at first, and `.on_sheet`, whether a sheet can hold it.

    s: Slider or Choice. build: Build.
    """
    style, layout = {"description_width": "190px"}, {"width": "auto", "min_width": "360px"}
    if isinstance(s, Choice):
        options = _options(s, build)
        long = max(len(str(words)) for words, _ in options) > LONGEST
        if long and len(s.label) < 16:  # a name is never cut: its label makes room
            style = {"description_width": "110px"}
        made = widgets.Dropdown(options=options, description=s.label, style=style, layout=layout)
    else:
        scale = scale_of(s, build)
        label = f"{s.label}, {scale.unit.replace('deg', '°')}" if scale.unit else s.label
        made = widgets.FloatSlider(
            min=scale.low,
            max=scale.high,
            value=scale.low,
            step=scale.step,
            description=label,
            readout_format=f".{scale.places}f",
            continuous_update=True,
            style=style,
            layout=layout,
        )
    stand(made, s, build)
    made.on_sheet = key_of(s.path) is not None
    return made


def stand(handle, s, build):
    """Stand a handle where a build has it, and begin from there; its ends reach as far as that.

    handle: of handle_of. s: Slider or Choice. build: Build.
    """
    if isinstance(s, Choice):
        if tuple(handle.options) != (options := _options(s, build)):
            handle.options = options
        handle.value = shown_value(start_of(build, s))
    else:
        scale, value = scale_of(s, build), handle_value(s, build, start_of(build, s))
        with handle.hold_sync():
            handle.min, handle.max = min(handle.min, scale.low), max(handle.max, scale.high)
            handle.step, handle.value = scale.step, value
            handle.min, handle.max = scale.low, scale.high
    handle.start = handle.value


def _options(s, build):
    """The options of a list as (words, value), the build's own first where it is none of them."""
    options, start = tuple((words, shown_value(v)) for words, v in pairs(s)), shown_value(start_of(build, s))
    if start in [v for _, v in options]:
        return options
    return ((_own_words(s.path, start, build), start), *options)
