"""Start from the job: what must melt or how hot, how big, how often, which shape; a first sheet comes of it."""

import re

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import say
from ...basics.quantity import parse
from ...chain.heat.verdicts import job_row
from ...sheet.choose import free_name
from ...sheet.edits import told_apart
from ...sheet.schema import KEYS
from ...sheet.spellings import as_a_sheet_says
from ...studies.first_sheet import SHAPES, SaidNumber, job_shape
from ...studies.from_job import FromJob, from_job, job_line
from .fields import say_wrong
from .search import meant, named, offers

JOB = KEYS["want"]["job"]
MOST_KG, LONGEST_S = 50.0, 24 * 3600.0
FIELDS = ("job", "hot", "size", "mass", "time", "name")  # what is checked when it is left


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
        self.told, self.beside = widgets.HTML(), {key: widgets.HTML() for key in FIELDS}
        for told in (self.told, *self.beside.values()):
            told.add_class("bench-told")
        go = widgets.Button(description="make a first sheet", layout={"width": "auto"})
        go.on_click(lambda _: self.answer())
        asked = ("job", "pick", "hot", "shape", "size", "mass", "time", "name")
        self.fields = {
            key: widgets.Box(
                [getattr(self, key), *([self.beside[key]] if key in FIELDS else [])], layout={"flex_flow": "row wrap"}
            )
            for key in asked
        }
        for field in self.fields.values():
            field.add_class("bench-field")
        self.box = widgets.VBox(
            [widgets.Box(list(self.fields.values()), layout={"flex_flow": "row wrap"}), widgets.HBox([go]), self.told]
        )
        self.box.add_class("bench-row")
        self.pick.observe(self._picked, "value")
        self.shape.observe(lambda _: self._asked(), "value")
        for key in FIELDS:
            getattr(self, key).observe(lambda _, key=key: self._left(key), "value")
        self._asked()

    def _add(self, made):
        made.add_class("bench-box")
        return made

    def _text(self, words, hint, kind=widgets.Text):
        return self._add(kind(description=words, placeholder=hint, continuous_update=False))

    def _picked(self, _):
        if self.pick.value:
            self.job.value = self.pick.value

    def _row(self):
        """The job's row, None where none of the list is named."""
        word = named(JOB, self.job.value)
        return job_row(word) if word else None

    def _asked(self):
        """Ask for what this job and this shape need: no amount for a stretched wire, no melting where nothing melts."""
        shape, row = job_shape(self.shape.value), self._row()
        self.size.description, self.size.placeholder = shape.size, say("length_m", shape.usual_m)
        melts = row is None or row["latent_j_kg"] or row["melting_low_c"]
        self.mass.description = f"how much is {'melted' if melts else 'heated'} each time"
        self.mass.placeholder = "300 g, or 300 ml" if shape.at == "work_c" else "5 g"
        for key in ("mass", "time"):
            self.fields[key].layout.display = "none" if shape.at == "wire_c" else ""
        self._left("size")

    def _left(self, key):
        """Say beside a field what is wrong with it.  key: of FIELDS."""
        if key == "job":
            self._asked()
            self._left("mass")  # a volume is read by the job's density
        try:
            self._read(key)
            told = self._as_mass() if key == "mass" else ""
        except Fault as why:
            told = "" if key == "name" and not self.name.value.strip() else _beside(why)
        if self.beside[key].value != told:
            self.beside[key].value = told

    def answer(self, **given):
        """Make the first sheet.  given: answers by name (job, hot, shape, size, mass, time, name), else as typed."""
        for key, value in given.items():
            getattr(self, key).value = value
        read, wrong = {}, []
        for key in FIELDS:  # all of them are told at once
            try:
                read[key] = self._read(key)
            except Fault as why:
                wrong.append(_wrong(why))
                self.beside[key].value = _beside(why)
        if not wrong:
            wrong = [say_wrong([words]) for words in self._lacking(read)]
        self.told.value = "".join(wrong)
        if wrong:
            return
        try:
            self.make(self._found(read), read["name"])
        except Fault as why:
            self.told.value = _wrong(why)

    def _lacking(self, read):
        if not read["job"] and read["hot"] is None:
            yield "Say what must melt, or how hot it must be."
        if read["mass"] and read["time"] is None:
            yield "Say how often too, beside how much."

    def _found(self, read) -> FromJob:
        shape = job_shape(self.shape.value)
        size_m = shape.usual_m if read["size"] is None else SaidNumber(read["size"])
        hot_c = None if read["hot"] is None else SaidNumber(read["hot"])
        mass_kg, time_s = read["mass"] or 0.0, read["time"] or 60.0
        return from_job(shape, size_m, job=read["job"], wanted_c=hot_c, mass_kg=mass_kg, time_s=time_s)

    def _read(self, key):
        """What stands in a field, None or "" for blank.  key: of FIELDS.  Raises Fault: it cannot be."""
        if key == "name":
            return free_name(self.name.value)
        if key == "job":
            return self._job()
        if key == "mass":
            return self._mass()
        shape = job_shape(self.shape.value)
        dimension, low, high = {
            "hot": ("c", 30, 900),
            "size": ("m", shape.low_m, shape.high_m),
            "time": ("s", 1, LONGEST_S),
        }[key]
        return _number(getattr(self, key), dimension, low, high)

    def _job(self):
        job = self.job.value.strip()
        word = named(JOB, job)
        if job and not word:
            near = meant(JOB, job)
            said = f"Meant: {'; '.join(o.word for o in near)}?" if near else "Leave it out and say how hot it must be."
            raise fault("the job", job, "is not in the list of jobs.", said)
        return word

    def _mass(self):
        """The mass, kg; a volume counts with the density of what is melted."""
        if job_shape(self.shape.value).at == "wire_c":
            return None
        volume, row = VOLUME.fullmatch(self.mass.value.strip()), self._row()
        if volume is None:
            return _number(self.mass, "kg", 0, MOST_KG)
        if row is None:
            raise fault(
                self.mass.description, self.mass.value, "is a volume.", do="Choose the job, or say it in grams."
            )
        litres = float(volume[1].replace(",", ".")) * LITRES[volume[2].lower()]
        return litres * 1e-3 * row["density_kg_m3"]

    def _as_mass(self):
        if not VOLUME.fullmatch(self.mass.value.strip()):
            return ""
        return f'<span class="read">{plain_text(f"read as {1000 * self._mass():.3g} g, by its density")}</span>'


VOLUME = re.compile(r"(\d+(?:[.,]\d+)?)\s*(ml|cl|dl|l|cc|cm3)", re.I)
LITRES = {"ml": 1e-3, "cc": 1e-3, "cm3": 1e-3, "cl": 1e-2, "dl": 0.1, "l": 1.0}


def _wrong(why):
    return say_wrong(str(c) for c in why.complaints)


def _beside(why):
    """What is wrong, beside its field, whose name need not be told again."""
    told = ((f"“{c.text}”" if c.text else "", c.need, c.cause, c.do) for c in why.complaints)
    return say_wrong(" ".join(w for w in words if w) for words in told)


def _number(box, dimension, low, high):
    """What was typed, SI, None for blank.  Raises Fault: no such quantity, or out of range."""
    if not box.value.strip():
        return None
    text = told_apart(as_a_sheet_says(dimension, box.value))[0]
    value = parse(text, dimension, where=box.description).nominal
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
