"""Pages and HTTP."""
