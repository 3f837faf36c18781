"""The nouns of the floor: frozen records of parts, machines, die sets, gauges, checks, events, signals and verdicts."""
