"""The one way in which kernels are compiled.

No fastmath: it changes results between builds. Division follows IEEE rules instead of
raising. The compiled code is kept on disk only when the layer above has named a folder
that is keyed by these sources: numba's own check does not notice that a function called
from another file has changed.

Kernels allocate nothing, so numba's counting of references to arrays is switched off
(``_nrt``): it took three quarters of a two-ball shot. Nothing here may make an array.
"""

import numba

_SETTINGS = {
    "cache": bool(numba.config.CACHE_DIR),
    "nogil": True,
    "error_model": "numpy",
    "boundscheck": False,
    "_nrt": False,
}

kernel = numba.njit(**_SETTINGS)

# The same, copied into its caller: a call passes every array as seven numbers, which is
# most of a small function's time. For functions called from one or two places only, since
# each copy is compiled again.
inlined_kernel = numba.njit(forceinline=True, **_SETTINGS)

# The same, copied before it is compiled: what calls ``run_events`` takes seconds to compile by
# itself, each time it is called as well as by itself.
copied_kernel = numba.njit(inline="always", **_SETTINGS)
