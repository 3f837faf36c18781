"""From gauge to size: what a reading over pins, over wires or of a form says about the part, with sensitivities."""
