"""Whether this machine can draw in 3D, found out where a crash does no harm.

Without a GL renderer VTK does not raise: it takes the process down with it.
So a throw-away process draws a small picture first, and only where that comes
out right is VTK let loose in this one.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from swingcheck.errors import RenderError
from swingcheck.files import write_whole

WINDOW = "VTK_DEFAULT_OPENGL_WINDOW"
PROBE_SECONDS = 60.0
ADVICE = (
    "no 3D still: this machine has no GL renderer that works. Debian and Ubuntu: "
    "apt install libegl1 libgl1-mesa-dri; or apt install libosmesa6 and set "
    f"{WINDOW}=vtkOSOpenGLRenderWindow. Plan sections need none."
)

PROBE = """
import vtkmodules.vtkRenderingOpenGL2
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkFiltersSources import vtkSphereSource
from vtkmodules.vtkRenderingCore import (
    vtkActor, vtkPolyDataMapper, vtkRenderer, vtkRenderWindow, vtkWindowToImageFilter)
window, scene, ball = vtkRenderWindow(), vtkRenderer(), vtkActor()
source, mapper = vtkSphereSource(), vtkPolyDataMapper()
mapper.SetInputConnection(source.GetOutputPort())
ball.SetMapper(mapper)
ball.GetProperty().SetColor(1, 0, 0)
ball.GetProperty().LightingOff()
scene.AddActor(ball)
scene.SetBackground(0, 0, 1)
window.SetOffScreenRendering(1)
window.SetSize(64, 64)
window.AddRenderer(scene)
window.Render()
shot = vtkWindowToImageFilter()
shot.SetInput(window)
shot.Update()
pixels = vtk_to_numpy(shot.GetOutput().GetPointData().GetScalars()).reshape(64, 64, -1)
assert tuple(pixels[32, 32, :3]) == (255, 0, 0) and tuple(pixels[0, 0, :3]) == (0, 0, 255)
print("drawn", flush=True)
"""

_LIBRARIES = (
    *(f"/usr/lib*{deeper}/lib{name}.so*" for deeper in ("", "/*") for name in ("EGL*", "OSMesa")),
    *("/usr/lib*/dri", "/usr/lib/*/dri", "/usr/share/glvnd/egl_vendor.d"),
)
_ENVIRONMENT = (WINDOW, "DISPLAY", "WAYLAND_DISPLAY", "LD_LIBRARY_PATH", "LIBGL_ALWAYS_SOFTWARE")


@cache
def gl_window() -> str:
    """Return the VTK render window class that draws here; empty for VTK's own choice.

    A success is remembered in the user's cache directory for as long as VTK, the GL
    libraries and the variables that choose among them stay the same. A failure is
    remembered for this process only, so that what was installed meanwhile counts at
    once. Raises RenderError where nothing draws; the message says what to install.
    """
    fingerprint = _fingerprint()
    known = _remembered(fingerprint)
    if known is not None:
        return known
    for window in _candidates():
        if draws(window):
            _remember(fingerprint, window)
            return window
    chosen = os.environ.get(WINDOW)
    raise RenderError(f"{WINDOW}={chosen} does not work here; {ADVICE}" if chosen else ADVICE)


def draws(window: str) -> bool:
    """Return whether a process of its own can draw with this render window class."""
    environment = {**os.environ, WINDOW: window} if window else dict(os.environ)
    try:
        done = subprocess.run(
            [sys.executable, "-c", PROBE],
            env=environment,
            capture_output=True,
            timeout=PROBE_SECONDS,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0 and b"drawn" in done.stdout


@contextmanager
def gl() -> Iterator[None]:
    """Let VTK draw inside the ``with`` block, by the render window class that works here.

    Raises RenderError where nothing draws; the message says what to install.
    """
    window = gl_window()
    before = os.environ.get(WINDOW)
    os.environ.update({WINDOW: window} if window else {})
    try:
        yield
    finally:
        os.environ.pop(WINDOW, None)
        os.environ.update({} if before is None else {WINDOW: before})


def _candidates() -> tuple[str, ...]:
    """Return the render window classes to try, the reader's own choice alone if there is one."""
    chosen = os.environ.get(WINDOW)
    if chosen:
        return (chosen,)
    if not sys.platform.startswith("linux"):
        return ("",)
    screen = ("vtkXOpenGLRenderWindow",) if os.environ.get("DISPLAY") else ()
    return ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow", *screen)


def _fingerprint() -> str:
    """Return all that the answer depends on, as one line."""
    try:
        vtk = version("vtk")
    except PackageNotFoundError:
        raise RenderError("no 3D still: the package vtk is not installed") from None
    files = {found for pattern in _LIBRARIES for found in Path("/").glob(pattern[1:])}
    libraries = [f"{file}@{file.stat().st_mtime_ns}" for file in sorted(files) if file.exists()]
    variables = [f"{name}={os.environ.get(name, '')}" for name in _ENVIRONMENT]
    return " ".join([vtk, sys.executable, *variables, *libraries])


def _cache_file() -> Path:
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local"
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(base) / "swingcheck" / "gl.txt"


def _remembered(fingerprint: str) -> str | None:
    try:
        known, window = _cache_file().read_text(encoding="utf-8").split("\n")
    except (OSError, ValueError):
        return None
    return window if known == fingerprint else None


def _remember(fingerprint: str, window: str) -> None:
    """Keep the answer; a cache that cannot be written is only slower next time."""
    try:
        _cache_file().parent.mkdir(parents=True, exist_ok=True)
        write_whole(_cache_file(), f"{fingerprint}\n{window}")
    except OSError:
        return
