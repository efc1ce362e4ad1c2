"""The server's own settings, with a data folder that is thrown away: no test ever opens somebody's book."""

import atexit
import os
import shutil
import tempfile

_home = tempfile.mkdtemp(prefix="silverwright-test-")
atexit.register(shutil.rmtree, _home, ignore_errors=True)
os.environ["SILVERWRIGHT_HOME"] = _home
os.environ.pop("SILVERWRIGHT_EXAMPLE", None)

from silverwright.web.settings import *  # noqa: E402, F403 (only after the folder is set)
