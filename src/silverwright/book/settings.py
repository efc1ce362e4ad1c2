"""Django as the book needs it."""

INSTALLED_APPS: list[str] = []
SECRET_KEY = "placeholder"  # noqa: S105
