"""What the page on doubt shows: the list of first readings, chances, and the band that each reading would leave."""
