"""The one way in which kernels are compiled.

No fastmath: it changes results between builds. Division follows IEEE rules instead of
raising. The compiled code is kept on disk only when the layer above has named a folder
that is keyed by these sources: numba's own check does not notice that a function called
from another file has changed.
"""

import numba

kernel = numba.njit(
    cache=bool(numba.config.CACHE_DIR),
    nogil=True,
    error_model="numpy",
    boundscheck=False,
)
