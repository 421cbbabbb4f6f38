"""A tool held at a temperature: the sensor, the law, stepping it exactly and fast, what comes of it."""
