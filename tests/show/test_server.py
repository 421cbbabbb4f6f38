"""The server extension: more room for a dropped log, and nobody's own setting is changed."""

from types import SimpleNamespace

from tornado.websocket import WebSocketHandler

from benchcalc.show.server import MESSAGE, MESSAGE_BYTES, SETTING, _load_jupyter_server_extension
from benchcalc.thermal.log.decoding import LARGEST_BYTES


def settings_after(**own):
    given = {SETTING: type("Plain", (), {"connect": lambda self: None}), **own}
    _load_jupyter_server_extension(SimpleNamespace(web_app=SimpleNamespace(settings=given), log=None))
    return given


def test_a_log_too_large_arrives_and_is_told():
    """What the server asks tornado for: room for any log that is read, and for the next larger ones to be refused."""
    found = settings_after()
    allowed = WebSocketHandler.max_message_size.fget(SimpleNamespace(settings=found))
    assert allowed == MESSAGE_BYTES > 3 * LARGEST_BYTES
    assert WebSocketHandler.max_message_size.fget(SimpleNamespace(settings={})) < LARGEST_BYTES  # as it would be


def test_a_limit_of_ones_own_stands():
    assert settings_after(**{MESSAGE: 5})[MESSAGE] == 5
