"""What surfaces shed, fins, bare wires, press fits."""
