"""The die: a state-space model of its growth with the slide as known input, and the pieces left."""
