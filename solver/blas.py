"""Four dense kernels that work in place on parts of a matrix and leave the interpreter free meanwhile.

scipy's own wrappers copy every submatrix and hold the interpreter lock, so two threads get no further than
one. scipy publishes the same routines as C pointers (`scipy.linalg.cython_blas`, `cython_lapack`, part of its
public interface); they are called here. All matrices are 64-bit floats in column-major order; a submatrix is
passed as a plain numpy slice.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from types import ModuleType

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cython_blas, cython_lapack
from threadpoolctl import ThreadpoolController

Floats = NDArray[np.float64]


def cholesky(a: Floats) -> int:
    """Replace the lower triangle of `a` by its Cholesky factor; return 0, or the 1-based row that failed."""
    info = ctypes.c_int(0)
    _DPOTRF(_LOWER, _int(a.shape[0]), a.ctypes.data, _stride(a), ctypes.byref(info))
    return info.value


def solve_right(factor: Floats, b: Floats, *, transposed: bool) -> None:
    """Replace `b` by b L^-1, or by b L^-T, L being the lower triangle of `factor`."""
    _DTRSM(
        _RIGHT, _LOWER, _TRANSPOSED if transposed else _PLAIN, _NOT_UNIT, _int(b.shape[0]), _int(b.shape[1]),
        _ONE, factor.ctypes.data, _stride(factor), b.ctypes.data, _stride(b),
    )  # fmt: skip


def negative_square(a: Floats, c: Floats) -> None:
    """Put -a a^T into the lower triangle of `c`, whatever is there."""
    _DSYRK(
        _LOWER, _PLAIN, _int(c.shape[0]), _int(a.shape[1]),
        _MINUS_ONE, a.ctypes.data, _stride(a), _NOUGHT, c.ctypes.data, _stride(c),
    )  # fmt: skip


def subtract_product(a: Floats, b: Floats, c: Floats, *, transposed: bool) -> None:
    """Take a b, or a b^T, from `c`."""
    _DGEMM(
        _PLAIN, _TRANSPOSED if transposed else _PLAIN, _int(c.shape[0]), _int(c.shape[1]), _int(a.shape[1]),
        _MINUS_ONE, a.ctypes.data, _stride(a), b.ctypes.data, _stride(b), _ONE, c.ctypes.data, _stride(c),
    )  # fmt: skip


def _routine(module: ModuleType, name: str, arguments: int) -> Callable[..., None]:
    """Return a callable for one of scipy's C pointers."""
    capsule = module.__pyx_capi__[name]
    get_name = ctypes.pythonapi.PyCapsule_GetName
    get_name.restype, get_name.argtypes = ctypes.c_char_p, [ctypes.py_object]
    get_pointer = ctypes.pythonapi.PyCapsule_GetPointer
    get_pointer.restype, get_pointer.argtypes = ctypes.c_void_p, [ctypes.py_object, ctypes.c_char_p]
    prototype = ctypes.CFUNCTYPE(None, *([ctypes.c_void_p] * arguments))
    routine: Callable[..., None] = prototype(get_pointer(capsule, get_name(capsule)))
    return routine


def _int(value: int) -> object:
    return ctypes.byref(ctypes.c_int(value))


def _stride(a: Floats) -> object:
    """Return the distance between columns, after making sure that there are columns."""
    if a.strides[0] != 8 and a.shape[0] > 1:
        raise ValueError(f"the kernels need column-major matrices, this one has strides {a.strides}")
    return _int(max(a.strides[1] // 8, a.shape[0], 1))


def _float(value: float) -> object:
    return ctypes.byref(ctypes.c_double(value))


_LOWER, _RIGHT, _PLAIN, _TRANSPOSED, _NOT_UNIT = (ctypes.c_char_p(c) for c in (b"L", b"R", b"N", b"T", b"N"))
_ONE, _MINUS_ONE, _NOUGHT = _float(1.0), _float(-1.0), _float(0.0)
_DPOTRF = _routine(cython_lapack, "dpotrf", 5)
_DTRSM = _routine(cython_blas, "dtrsm", 11)
_DSYRK = _routine(cython_blas, "dsyrk", 10)
_DGEMM = _routine(cython_blas, "dgemm", 13)


def _take_room() -> None:
    """Have the library take its room for work now: where there is none later, it waits for some for ever.

    Measured (OpenBLAS of scipy 1.17, one thread, 20 MB left of RLIMIT_AS): the first factor never came back.
    With two threads, which wait for one another by spinning, this took 0.13 s of the processor: 0.002 alone.
    """
    size = 128
    a = np.asfortranarray(np.eye(size))
    with ThreadpoolController().select(user_api="blas").limit(limits=1):
        cholesky(a)
        negative_square(a, np.zeros((size, size), order="F"))


_take_room()
