"""Heat: networks, surfaces, the model of the tool."""
