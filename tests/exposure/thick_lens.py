"""Thick lenses, traced ray by ray with Snell's law at every surface: another world than the thin lens, sharing no line with the engine."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, atan, sin, sqrt, tan

TINY = 1e-4  # radians or parts of a millimetre: small enough for Gaussian optics, large enough for doubles


@dataclass(frozen=True)
class Surface:
    """A sphere at `vertex`, with its radius (positive: centre to the right) and the refractive index behind it."""

    vertex: float
    radius: float
    index: float


@dataclass(frozen=True)
class Ray:
    """Where a ray is, and its angle to the axis."""

    z: float
    y: float
    angle: float

    def at(self, z: float) -> float:
        return self.y + (z - self.z) * tan(self.angle)

    def crossing(self) -> float:
        """Where it meets the axis."""
        return self.z - self.y / tan(self.angle)


@dataclass(frozen=True)
class ThickLens:
    surfaces: tuple[Surface, ...]
    stop: float
    stop_radius: float

    def through(self, ray: Ray, surfaces: Sequence[Surface] | None = None, index: float = 1.0) -> Ray:
        """Snell's law at one sphere after the other."""
        for surface in self.surfaces if surfaces is None else surfaces:
            centre = surface.vertex + surface.radius
            slope = tan(ray.angle)
            # |(z, y) - (centre, 0)| = |radius|, along the ray
            a, b = 1 + slope**2, (ray.z - centre) + ray.y * slope
            c = (ray.z - centre) ** 2 + ray.y**2 - surface.radius**2
            root = sqrt(b * b - a * c)
            z = ray.z + min(((-b - root) / a, (-b + root) / a), key=lambda step: abs(ray.z + step - surface.vertex))
            y = ray.y + (z - ray.z) * slope
            normal = -asin(y / surface.radius)
            inside = asin(sin(ray.angle - normal) * index / surface.index)
            ray, index = Ray(z, y, inside + normal), surface.index
        return ray

    def turned(self) -> "ThickLens":
        """The same lens seen from behind."""
        before = (1.0, *(one.index for one in self.surfaces))
        found = [Surface(-one.vertex, -one.radius, index) for one, index in zip(self.surfaces, before, strict=False)]
        return ThickLens(tuple(reversed(found)), -self.stop, self.stop_radius)

    @property
    def first(self) -> float:
        return self.surfaces[0].vertex

    @property
    def focal(self) -> float:
        out = self.through(Ray(self.first - 1, TINY, 0.0))
        return -TINY / tan(out.angle)

    @property
    def rear_focus(self) -> float:
        return self.through(Ray(self.first - 1, TINY, 0.0)).crossing()

    @property
    def rear_plane(self) -> float:
        return self.rear_focus - self.focal

    @property
    def front_plane(self) -> float:
        return -self.turned().rear_plane

    @property
    def exit_pupil(self) -> tuple[float, float]:
        """Where the stop is seen from behind, and its radius."""
        behind = [one for one in self.surfaces if one.vertex > self.stop]
        if not behind:
            return self.stop, self.stop_radius
        index = [1.0, *(one.index for one in self.surfaces if one.vertex < self.stop)][-1]
        middle = self.through(Ray(self.stop, 0.0, TINY), behind, index)
        edge = self.through(Ray(self.stop, TINY, 0.0), behind, index)
        at = middle.crossing()
        return at, abs(edge.at(at)) / TINY * self.stop_radius

    @property
    def entrance_pupil(self) -> tuple[float, float]:
        at, radius = self.turned().exit_pupil
        return -at, radius

    @property
    def pupil_magnification(self) -> float:
        return self.exit_pupil[1] / self.entrance_pupil[1]

    @property
    def f_number(self) -> float:
        return self.focal / (2 * self.entrance_pupil[1])

    def image_of(self, z: float) -> float:
        """Where a point on the axis at z comes to focus."""
        return self.through(Ray(z, 0.0, 100 * TINY / (self.first - z))).crossing()

    def magnification_of(self, z: float) -> float:
        """Image over subject: two rays from a point off the axis meet in the image."""
        out = self.through(Ray(z, TINY, 0.0))
        return abs(out.at(self.image_of(z))) / TINY

    def marginal(self, z: float) -> Ray:
        """The ray from a point on the axis through the edge of the entrance pupil, behind the lens."""
        at, radius = self.entrance_pupil
        return self.through(Ray(z, 0.0, atan(radius / (at - z))))

    def blur_of(self, z: float, sheet: float) -> float:
        """Diameter of a point at z on a sheet."""
        return 2 * abs(self.marginal(z).at(sheet))

    def working_f_number(self, z: float) -> float:
        """From the cone that arrives."""
        return abs(1 / (2 * tan(self.marginal(z).angle)))


def group(vertex: float, thickness: float, radii: tuple[float, float], index: float) -> tuple[Surface, Surface]:
    """A single glass in air."""
    return Surface(vertex, radii[0], index), Surface(vertex + thickness, radii[1], 1.0)


# A thick symmetrical pair with the stop between; a telephoto lens; a reversed telephoto; a meniscus with the stop in front of it.
SYMMETRICAL = ThickLens((*group(0, 12, (90, 400), 1.62), *group(40, 12, (-400, -90), 1.62)), stop=26, stop_radius=1.2)
TELEPHOTO = ThickLens((*group(0, 14, (80, -300), 1.60), *group(90, 5, (-90, 250), 1.65)), stop=20, stop_radius=1.5)
WIDE = ThickLens((*group(0, 5, (300, 80), 1.60), *group(70, 14, (150, -90), 1.62)), stop=66, stop_radius=0.8)
MENISCUS = ThickLens(group(0, 6, (-140, -60), 1.5187), stop=-18, stop_radius=1.0)
LENSES = {"symmetrical": SYMMETRICAL, "telephoto": TELEPHOTO, "wide": WIDE, "meniscus": MENISCUS}
