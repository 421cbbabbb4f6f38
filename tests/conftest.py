"""Every test works with the demo's sheet, never with the user's own."""

from canonical import use_the_demo

use_the_demo()
