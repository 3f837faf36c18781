"""Pictures: a record in, a chart out; `theme` is the only place for colour, marks and type."""
