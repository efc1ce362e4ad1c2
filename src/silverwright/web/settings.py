"""The book's settings, and what pages need besides."""

import os
from typing import Any, Final

from csp.constants import NONE, SELF

from silverwright.book.settings import *  # noqa: F403 (Django's way: one settings module builds on the other)
from silverwright.book.settings import INSTALLED_APPS as BOOK_APPS
from silverwright.book.settings import SILVERWRIGHT_HOME

DEBUG = False
INSTALLED_APPS = [*BOOK_APPS, "django.contrib.staticfiles", "django_htmx", "csp", "silverwright.web"]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "silverwright.web.guard.Guard",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]
ROOT_URLCONF = "silverwright.web.urls"
TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": ["django.template.context_processors.request", "silverwright.web.frame.frame"],
        },
    }
]

ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
LARGEST_BODY_BYTES: Final = 1 << 20  # our judgement: many times the longest table that anybody types
LARGEST_FILE_BYTES: Final = 7 << 30  # our judgement: a gigapixel in colour with 16 bits, and what a file says besides
TAKES_FILES: Final = frozenset({"/api/files", "/measure"})  # where a body may be as long as a scan
DATA_UPLOAD_MAX_MEMORY_SIZE = LARGEST_BODY_BYTES
FILE_UPLOAD_TEMP_DIR = SILVERWRIGHT_HOME / "incoming"  # beside the files that are kept: what arrives is written once and never fills another disk
SECURE_REFERRER_POLICY = "same-origin"  # with "no-referrer" a browser sends the origin "null" with our own forms
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "style-src": [SELF],
        "img-src": [SELF],
        "font-src": [SELF],
        "script-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"terminal": {"class": "logging.StreamHandler"}},
    "loggers": {"django.request": {"handlers": ["terminal"], "level": "ERROR", "propagate": False}},  # what broke, for whoever mends it
}

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True

EXAMPLE: Final = os.environ.get("SILVERWRIGHT_EXAMPLE") == "1"  # the boatyard's own book: every page says that it is invented
