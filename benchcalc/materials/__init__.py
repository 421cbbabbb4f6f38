"""What things are made of: alloys, gauges."""
