"""A log dropped on the page: read, fitted, told as HTML."""

from ...basics.escape import plain_text
from ...chain.workings import links
from ...sheet.build import Log
from ...thermal.log.reading import log_of_bytes
from ..drawing.live_picture import picture
from ..drawing.tag import image_tag
from ..page.table import as_html
from .figure import LOG
from .numbers import view_of
from .tables import answers, before_keeping, channels, report, warnings


def dropped_log_html(build, name, data, *, channel=None, time=None, kind=None, at=None, **how):
    """What a dropped log says, as HTML: the log, its report, the picture, the answers.

    build: Build. name, data: of the file. channel, time, kind: as log_of_text. at: Log, what is told of how the probe
    sat and of the watts, or None. how: as work_log.
    Returns (WarmUpLog, HTML).  Raises Fault: what reading or fitting complains of.
    """
    log = log_of_bytes(data, name, channel=channel, time=time, kind=kind)
    at = at or Log(file=name)
    view = view_of(build, links(build)[2] if build.wire else None, log, at, **how)
    seen = picture(LOG, build, view)
    image = image_tag(seen.png, seen.caption)
    more = view.part.own_remarks if view.part else ()
    below = (
        as_html(answers(view.part, build.degrees)) + as_html(warnings(view.part, build.degrees))
        if view.part
        else plain_text(view.said)
    )
    first = as_html(before_keeping(log, more)) + as_html(channels(log, build.degrees, at.power_w))
    return log, f"{first}{image}{below}{as_html(report(log, more))}"
