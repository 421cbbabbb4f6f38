"""A small server extension: send every update of a live picture at once, and let a large log come through.

Operating systems hold back small packets until the earlier ones are acknowledged, and browsers
acknowledge late: together that makes a dragged slider stall for about 40 ms at each step. The kernel's
socket is therefore asked not to wait. A file dropped on a page comes as one message, and the server hangs up on a
message larger than 10 MB without a word: with more room it arrives, and the page itself says what is too large.
Switched on by jupyter_server_config.d/benchcalc.json.
"""

SETTING = "kernel_websocket_connection_class"
MESSAGE, MESSAGE_BYTES = "websocket_max_message_size", 64 * 1024 * 1024  # more than three times the largest log read


def without_delay(connection_class):
    """Give a kernel connection class whose socket sends small packets at once.

    connection_class: a class of the server's kernel connections, with a method connect() and an
    attribute websocket_handler.
    Returns a subclass; where the handler knows no set_nodelay it behaves as before.
    """

    def connect(self, *args, **kwargs):
        try:
            self.websocket_handler.set_nodelay(True)
        except Exception as why:  # a slower slider is no reason to lose the kernel
            self.log.debug("benchcalc: the socket keeps its delay (%s)", why)
        return connection_class.connect(self, *args, **kwargs)

    return type("PromptConnection", (connection_class,), {"connect": connect})


def _jupyter_server_extension_points():
    return [{"module": "benchcalc.show.server"}]


def _load_jupyter_server_extension(app):
    try:
        settings = app.web_app.settings
        settings.setdefault(MESSAGE, MESSAGE_BYTES)  # one that is set already is its owner's wish
        settings[SETTING] = without_delay(settings[SETTING])
    except Exception as why:  # other versions of the server: everything works, only less smoothly
        app.log.warning("benchcalc: live pictures may stutter while a slider is dragged (%s)", why)
