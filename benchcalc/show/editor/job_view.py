"""Start from the job: what must melt or how hot, how big, how often, which shape; a first sheet comes of it."""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import say
from ...basics.quantity import parse
from ...sheet.choose import free_name
from ...sheet.schema import KEYS
from ...studies.first_sheet import SHAPES, SaidNumber, job_shape
from ...studies.from_job import FromJob, from_job, job_line
from .fields import say_wrong
from .search import meant, named, offers

JOB = KEYS["want"]["job"]
MOST_KG, LONGEST_S = 50.0, 24 * 3600.0


class JobView:
    """The questions about the job; `.box` to lay out, `.answer()` makes the first sheet of what stands in them."""

    def __init__(self, make, name=""):
        """make: function (FromJob, name), called when the answers are good. name: typed already, or none."""
        self.make = make
        self.job = self._text("what must it melt, cut or brand?", "type or choose", widgets.Combobox)
        self.job.options = [o.word for o in offers(JOB)]
        self.pick = self._add(widgets.Dropdown(description="or choose", options=_all()))
        self.hot = self._text("or how hot must it be?", "250 degC")
        self.shape = self._add(widgets.Dropdown(description="shape of the tool", options=[s.word for s in SHAPES]))
        self.size = self._text(SHAPES[0].size, say("diameter_m", SHAPES[0].usual_m))
        self.mass = self._text("how much is melted each time", "5 g")
        self.time = self._text("how often: once in", "1 min")
        self.name = self._text("name of the new sheet", "my_iron")
        self.name.value = name
        self.told = widgets.HTML()
        self.told.add_class("bench-told")
        go = widgets.Button(description="make a first sheet", layout={"width": "auto"})
        go.on_click(lambda _: self.answer())
        self.pick.observe(self._picked, "value")
        self.shape.observe(self._shaped, "value")
        asked = [self.job, self.pick, self.hot, self.shape, self.size, self.mass, self.time, self.name]
        fields = [widgets.Box([w]) for w in asked]
        for field in fields:
            field.add_class("bench-field")
        self.box = widgets.VBox([widgets.Box(fields, layout={"flex_flow": "row wrap"}), widgets.HBox([go]), self.told])
        self.box.add_class("bench-row")

    def _add(self, made):
        made.add_class("bench-box")
        return made

    def _text(self, words, hint, kind=widgets.Text):
        return self._add(kind(description=words, placeholder=hint, continuous_update=False))

    def _picked(self, _):
        if self.pick.value:
            self.job.value = self.pick.value

    def _shaped(self, _):
        shape = job_shape(self.shape.value)
        self.size.description, self.size.placeholder = shape.size, say("length_m", shape.usual_m)

    def answer(self, **given):
        """Make the first sheet.  given: answers by name (job, hot, shape, size, mass, time, name), else as typed."""
        for key, value in given.items():
            getattr(self, key).value = value
        try:
            name = free_name(self.name.value)  # refused before anything is worked out
            found = self._found()
            self.told.value = ""
            self.make(found, name)
        except Fault as why:
            self.told.value = say_wrong(str(c) for c in why.complaints)

    def _found(self) -> FromJob:
        shape, job = job_shape(self.shape.value), self.job.value.strip()
        word = named(JOB, job)
        if job and not word:
            near = meant(JOB, job)
            said = f"Meant: {'; '.join(o.word for o in near)}?" if near else "Leave it out and say how hot it must be."
            raise fault("the job", job, "is not in the list of jobs.", said)
        hot_c = self._number(self.hot, "c", 30, 900)
        if not word and hot_c is None:
            raise fault("the job", "", "is missing: say what must melt, or how hot it must be.")
        mass = self._number(self.mass, "kg", 0, MOST_KG)
        time_s = self._number(self.time, "s", 1, LONGEST_S)
        if mass and time_s is None:
            raise fault("how often", "", "is missing beside how much.")
        size_m = self._number(self.size, "m", shape.low_m, shape.high_m)
        size_m = shape.usual_m if size_m is None else SaidNumber(size_m)
        hot_c = None if hot_c is None else SaidNumber(hot_c)
        return from_job(shape, size_m, job=word, wanted_c=hot_c, mass_kg=mass or 0.0, time_s=time_s or 60.0)

    def _number(self, box, dimension, low, high):
        """What was typed, SI, None for blank.  Raises Fault: no such quantity, or out of range."""
        if not box.value.strip():
            return None
        value = parse(box.value, dimension, where=box.description).nominal
        if not low <= value <= high:
            ends = " to ".join(say(f"x_{dimension}", x) for x in (low, high))
            raise fault(box.description, box.value, f"is outside {ends}.")
        return value


def _all():
    return [("", ""), *((o.line, o.word) for o in offers(JOB))]


def first_told(found: FromJob, shape: str) -> str:
    """What came of the job, as HTML.  found: FromJob. shape: word of its shape."""
    band = found.power_w
    low, middle, high = (say("power_w", x) for x in (band.low, band.nominal, band.high))
    lines = [
        f"For {say('temp_c', found.wanted_c)} a {shape} of this size needs about {middle} in the coil "
        f"({low} to {high} likely)"
        + (f", of which {say('power_w', found.work_w)} go into what is melted." if found.work_w else "."),
        "The temperatures below are those of the tool left alone: where part of the watts goes into the work, it runs "
        "hotter while there is none, so it wants turning down or switching off between pieces."
        if found.work_w
        else "",
        "What you answered is stated on the sheet; every other value is assumed: common proportions, a supply and a "
        "wire that would do. Change what you know.",
    ]
    listed = "".join(
        f"<li>{plain_text(f'{words} ({where}): {100 * share:.0f} % of the doubt')}</li>"
        for words, where, share in found.readings
    )
    asked = f"<p>These readings would firm it most:</p><ol>{listed}</ol>" if listed else ""
    return f'<div class="jp-RenderedHTMLCommon">{"".join(f"<p>{plain_text(w)}</p>" for w in lines if w)}{asked}</div>'


def job_told(text):
    """The job that a sheet was begun from, as HTML; "" without one.  text: of the sheet."""
    line = job_line(text)
    told = f"Begun from the job: {line} Worked out then, with what was assumed then." if line else ""
    return f'<div style="line-height:1.35">{plain_text(told)}</div>' if told else ""
