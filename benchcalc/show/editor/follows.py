"""What follows what is typed: the picture at once, the chain when the maker rests; neither touches a field."""

import asyncio

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...basics.names import say
from ...chain.as_told import heat_guesses
from ...chain.heat.joint_gaps import gap_words
from ...chain.heat.lacking import heat_lacks, waits_for
from ...chain.heat.verdicts import job_row
from ...chain.supply.line import overruled_words
from ...chain.workings import work_out
from ...sheet.edits import tables_of
from ...studies.harm import harm_of, shown_first
from ...studies.mend_first import MOST, ROOM_C, Mend, ToMend, assumed_here, mend_steps, to_look_at
from ..drawing.tag import image_tag
from ..heat.numbers import heat_numbers
from ..panel.mending import mend_html
from ..start.glance import glance
from .drawn import drawn, held_words, in_words, lying_words, marks_words, settled_words
from .figure import drawn_png
from .form_words import form_words
from .headed import head_html, same_sheet
from .left_out import another_tool, left_words, with_kept

REST_S, PAUSE_S = 0.4, 0.02
WISH = ("job", "temperature")
ANY_UNIT = 0.6  # of the rise of the job's lower end: degF read as degC leave less, and that is asked about for ever
TRYING = "What cures it is being tried out."


class Follows:
    """The picture, what to mend first and the chain of the sheet that stands in the form."""

    def __init__(self, picture, mending, chain, head, known=None, offer=lambda found: None):
        """picture, mending, chain, head: HTML widgets. known: (Build, Workings, ToMend) worked out before, or None.
        offer: function that is called with the ToMend that is told."""
        self.offer = offer
        self.picture, self.mending, self.chain, self.head, self.known = picture, mending, chain, head, known
        self.steps = self.left = ""
        self.timer = self.now = self.trying = self.shown = None
        self.doubts = []  # what the sheet says twice, and not the same
        self.news = ""  # what was only assumed and moved with what was typed

    def nothing(self):
        """Show none of them: there is no sheet that could be read."""
        self._cancel()
        self.picture.value = self.mending.value = self.chain.value = self.head.value = ""

    def _cancel(self):
        if self.timer is not None:
            self.timer.cancel()
        self.timer = None

    def show(self, draft, build, tables, left=((), {}), steps=""):
        """Follow what was typed.

        draft: Draft. build: Build, or None where nothing of it can be read. tables: of the sheet as it stands. left:
        places that were left out of the build, being at fault, and the values that stand in for others. steps: as
        head_html.
        """
        self.steps, self.left = steps, left_words(*left, tables)
        self.draw(build, with_kept(tables, left[1]), same_wish(draft, tables))
        self.now = draft.path.stem, draft.altered, None if another_tool(left[0]) else build
        self._tell_head()
        self._cancel()
        if self._known(self.now[2]) or not self._later(REST_S, self.rest):
            self.rest()

    def _known(self, build):
        """What was worked out before, if it is of a sheet that says the same."""
        if self.known is None or build is None or self.left:
            return None
        return self.known if same_sheet(self.known[0], build) else None

    def _tell_head(self, stands=""):
        name, _, build = self.now
        build = None if self.left else build
        if self.left:
            stands = f"Mend first, nothing is kept before: {self.left}. {stands}"
        self.head.value = head_html(name, build, self.known and self.known[0], self.steps, stands)

    def _later(self, wait_s, act):
        """Call act when the page has nothing else to do; False where no loop runs: a test, or a plain script."""
        try:
            self.timer = asyncio.get_running_loop().call_later(wait_s, act)
        except RuntimeError:
            return False
        return True

    def draw(self, build, tables, kept=False):
        """Draw the tool as it stands in the form.  build: Build or None. tables: of the sheet. kept: as job_doubt."""
        self.shown, self.doubts = drawn(tables, build), []
        if build is not None:
            self.doubts = [
                words
                for words in (overruled_words(build), job_doubt(build, kept), *(said for _, said in gap_words(build)))
                if words
            ]
        self._picture()

    def _picture(self, heat=None, stands="", tails_c=float("nan"), held=""):
        """The picture, what it shows in words, what is wrong with the places, and how the tool stands.

        heat: HeatNumbers or None. stands: of standing_words; its line is kept free until it is known.
        tails_c, held: as settled_words.
        """
        n = self.shown
        hot = settled_words(heat, tails_c, held) if heat is not None else ""
        said = f"{in_words(n)} {hot}".strip()
        told = [f"Left out until it is mended: {self.left}."] if self.left else []
        told += [w.said for w in n.wrong] + self.doubts
        wrong = "".join(f'<span class="wrong">▲ {plain_text(words)}</span>' for words in told)
        if n.missing:
            wrong += f'<span class="read">Not drawn yet: {plain_text("; ".join(n.missing))}.</span>'
        picture = ""
        if n.shapes:
            png, wide, tall = drawn_png(n, heat)
            look = f"width:100%;max-width:{wide}px;height:auto;display:block;margin:4px 0"
            picture = image_tag(png, said, look, (wide, tall))
        wrong += f'<span class="read"><b>{plain_text(self.news)}</b></span>' if self.news else ""
        words = f"{n.room[0][0].upper()}{n.room[0][1:]}. " if n.room else "" if n.shapes else said
        words = f"{lying_words(n)} {words}".lstrip()
        words = plain_text(words) + (f"<b>{plain_text(hot)}</b>" if hot else "")
        stands = f'<span class="read"><b>{plain_text(stands) or "&nbsp;"}</b></span>' if n.shapes else ""
        self.picture.value = f'{picture}<div class="bench-told">{wrong}<span class="read">{words}</span>{stands}</div>'

    def rest(self):
        """Work out the chain with what stands in the form."""
        self.timer = None
        self.mending.value = ""
        self.offer(ToMend((), 0, ()))
        name, altered, build = self.now
        if build is None:
            self._tell_head("Its numbers are not known yet.")
            self._tell(
                f"<p>Something is to mend in the sheet {plain_text(name)} before its chain can be worked out: look for "
                "▲ on the buttons above and beside the fields. No other sheet stands in for it.</p>"
            )
            return
        known = self._known(build)
        workings = None
        try:
            workings = known[1] if known else work_out(build)
            chain = glance(build, workings=workings)
            heat = heat_numbers(build, workings.heat)
            tails_c = float("nan") if workings.heat is None else workings.heat.tails_c
            stands = standing_words(build, workings)
            held = held_words(build, workings.parts.get("control")) if heat.marks else ""
            stands = f"{held}{stands}"
            self._picture(heat if len(heat.cells) else None, stands, tails_c, held)
            full = "At full power it" if held else "It"
            guess = heat_guesses(build)
            if_so = f", if what is only assumed holds ({guess})," if guess else ""
            self._tell_head(f"{held}{full} settles{if_so} at: {marks_words(heat, tails_c)}." if heat.marks else stands)
        except Fault as why:
            chain = f"<p>{plain_text(why)}</p>"
        except Exception as why:  # nobody else would see it; older numbers must not stand under this sheet
            self._tell(
                f"<p>The chain of the sheet {plain_text(name)} could not be worked out as it stands above: "
                f"{plain_text(why)}. What you typed is not lost.</p>"
            )
            raise
        state = "Not kept yet. " if altered else ""
        if self.left:
            state += f"▲ Worked out without these: {plain_text(self.left)}. No other sheet stands in for them. "
        self._tell(f"<p>{state}The chain of the sheet {plain_text(name)} as it stands above:</p>{chain}")
        if known:
            self.offer(known[2])
            self._tell_mending(mend_html(build, known[2]))
        elif workings is not None:
            self.mend(build, workings)

    def mend(self, build, workings):
        """Tell what to mend first, at once without its cures, which follow a tried change at a time.

        build: Build. workings: Workings of it.
        """
        limits, advice, resting = to_look_at(workings)
        first = tuple(Mend(link, v, harm_of(v)[1]) for link, v in shown_first(limits, MOST))
        now = ToMend(first, len(limits) - len(first), tuple(advice), resting, assumed_here(build, workings, resting))
        self.trying = build, now, mend_steps(build, workings)
        self.offer(now)
        self._tell_mending(mend_html(build, now, TRYING))
        self._later(PAUSE_S, self.step)

    def step(self):
        """Try one more change; what was typed meanwhile comes first."""
        self.timer = None
        build, now, steps = self.trying
        try:
            line, lines = next(steps)
        except StopIteration as done:
            self._tell_mending(mend_html(build, done.value))
            return
        except Exception as why:  # nobody else would see it: say it here
            self._tell_mending(mend_html(build, now, f"What cures it could not be worked out: {why}."))
            raise
        self._tell_mending(mend_html(build, now, f"{TRYING[:-1]}: line {line} of {lines}."))
        self._later(PAUSE_S, self.step)

    def _tell_mending(self, told):
        note = (
            f"<p>▲ <b>Mend first: {plain_text(self.left)}.</b> What follows does without it.</p>" if self.left else ""
        )
        look = "jp-RenderedHTMLCommon"
        self.mending.value = f'<div class="{look}" style="min-height:150px">{note}{form_words(told)}</div>'

    def _tell(self, told):
        self.chain.value = f'<div class="jp-RenderedHTMLCommon">{form_words(told)}</div>'


def standing_words(build, workings, most=3):
    """How a tool stands in one line: what is over by name, and how many limits are tight, not known, fine.

    build: Build. workings: Workings of it. most: how many are named.  Where it could not be worked out, or most is not
    known, it says so and what is missing, and never that nothing is over.
    """
    limits = [v for _, v in workings.verdicts if not v.advice]
    if not limits:
        return "Nothing can be judged yet."
    over = [v.named for v in limits if v.state == "over"]
    more = f" and {len(over) - most} more" if len(over) > most else ""
    named = f"Over: {'; '.join(over[:most])}{more}. " if over else ""
    missing = _missing(build, workings, limits)
    if missing:
        named += f"{'The rest cannot' if over else 'Cannot'} be judged yet: {missing}. "
    elif not over:
        named = "Nothing is over. "
    counts = ((state, sum(v.state == state for v in limits)) for state in ("tight", "not known", "fine"))
    return named + ", ".join(f"{count} {state}" for state, count in counts if count) + "."


def same_wish(draft, tables):
    """Whether job and wanted temperature are those that the file keeps.  draft: Draft. tables: of the sheet."""
    try:
        kept = tables_of(draft.seen.text)["want"]
    except Fault:
        return False
    return [r.get(k) for r in kept for k in WISH] == [r.get(k) for r in tables["want"] for k in WISH]


def job_doubt(build, kept=False):
    """That a wanted temperature is not one of the job's, in words; "" where it is, or one of them is not told.

    build: Build. kept: whether the file says so: it is then told no more, but where the job never stands it, or where
    so low a one is most likely a slip of the unit.
    """
    row = job_row(build.want.job) if build.want.job else None
    if row is None or build.want.tip_c is None or row["low_c"] <= build.want.tip_c <= row["high_c"]:
        return ""
    low, high, never, wanted = (
        say("temp_c", x, degrees=build.degrees) for x in (row["low_c"], row["high_c"], row["never_c"], build.want.tip_c)
    )
    if build.want.tip_c > row["never_c"]:
        return f"The wanted temperature, {wanted}, is above what {build.want.job} stands, {never}."
    if kept and build.want.tip_c - ROOM_C >= ANY_UNIT * (row["low_c"] - ROOM_C):
        return ""
    return (
        f"{build.want.job} is done at {low} to {high}, never above {never}; the wanted temperature is {wanted}: was "
        "another unit meant? If not, check and keep: it is then taken as you say."
    )


def _missing(build, workings, limits):
    """What is missing of a tool that was not worked out, or of which most is not known; "" of any other."""
    heat = workings.parts.get("heat")
    if lacks := heat_lacks(build, workings.parts):
        return waits_for(lacks)
    if doubted := [what for what, _ in gap_words(build)]:
        return f"{waits_for(doubted)}, over a gap"
    if heat is not None and heat.refused:
        return heat.refused.replace("\n", " ").rstrip(". ")
    unknown = [v.what for v in limits if v.state == "not known"]
    judged = [v for v in limits if v.state != "does not apply"]
    return waits_for(unknown) if 2 * len(unknown) > len(judged) else ""
