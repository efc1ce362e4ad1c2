"""One module for each place."""
