"""Link: the tool held at a temperature."""
