"""The door: typed text, files and gauges become facts, or collected refusals."""
