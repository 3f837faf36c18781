"""The one file that the page server is started with; it stands alone, so that nothing beside it is found by name."""
