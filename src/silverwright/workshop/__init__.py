"""Acts: whatever changes the book, one file for each kind."""
