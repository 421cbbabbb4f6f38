"""What a sheet still says nothing of, of all that keeps a tool from settling where it would by itself."""


def holding_lacks(build):
    """What is silent of control, sensor and cut-out, in words.

    build: Build.
    Returns list; empty where all three are on the sheet.
    """
    control, sensor = build.control, build.sensor
    cut_out = control is not None and control.cut_out_c is not None
    named = (
        ("a control with its set point", control is None or control.set_c is None),
        ("the part that the sensor sits on", sensor.on is None),
        ("the sensor's place", sensor.at_m is None),
        ("a cut-out with its place", not cut_out),
        ("the cut-out's place", cut_out and control.cut_out_at_m is None),
    )
    return [words for words, lacking in named if lacking]


def holding_words(build):
    """What is to fill in before a tool that is too hot left on is a held one, in a sentence.  build: Build."""
    lacks = holding_lacks(build)
    if lacks:
        return f"To hold it the sheet still lacks: {', '.join(lacks)}."
    return "Control, sensor and cut-out are on the sheet: whether they guard it stands at power stuck on."
