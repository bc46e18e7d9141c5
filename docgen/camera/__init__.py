"""Photographs and scans of signed sheets: which face each shows, where its boxes are, which of them are ticked.

Needs the extra ``docgen[camera]``. Pictures are files of strangers: what takes them apart (:mod:`docgen.camera.worker`)
runs in a process of its own, so that the commands import none of the libraries for it.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy comes: that process may start no threads
