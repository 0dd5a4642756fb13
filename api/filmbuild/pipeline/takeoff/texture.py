"""How deep the texture of the prepared concrete is."""

from math import pi

from filmbuild.pipeline.substrate import SandPatch, Substrate
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import SmallVolume, Thickness

ASSUMED_DEPTH = (0.10, 0.15, 0.20, 0.30, 0.45, 0.65, 1.0, 1.4, 2.0, 3.0)
"""[mm] Mean texture depth taken for ICRI concrete surface profiles 1 to 10, where none was read.

A working assumption, with no published source: the profiles are compared by sight and touch, and
their guideline gives no mean depth. The figures rise by about equal ratios to 3 mm for profile
10, half of the 6 mm (1/4 in) that its amplitude exceeds (ICRI 310.2R-2013).
"""


def texture_of(substrate: Substrate) -> tuple[Thickness, Trace] | None:
    """As stated, else the mean of the sand patches, else what is assumed for the profile."""
    if substrate.texture_depth is not None:
        depth = substrate.texture_depth
        return depth, Trace("takeoff.texture-stated", {"texture_depth": depth})
    if substrate.sand_patches:
        patches = substrate.sand_patches
        depths = [patch_depth(one) for one in patches]
        inputs = {
            "volumes": [SmallVolume(one.volume) for one in patches],
            "diameters": [one.diameters for one in patches],
            "depths": [Thickness(depth) for depth in depths],
        }
        mean = Thickness(sum(depths) / len(depths))
        return mean, Trace("takeoff.texture-sand-patch", inputs)
    if substrate.profile is not None:
        depth = Thickness(ASSUMED_DEPTH[substrate.profile - 1] / 1000)
        inputs = {"profile": substrate.profile, "assumed_depth": depth}
        return depth, Trace("takeoff.texture-assumed", inputs)
    return None


def patch_depth(patch: SandPatch) -> float:
    """[m] ASTM E965: MTD = 4 V / (pi D2), D the mean of the diameters."""
    across = sum(patch.diameters) / len(patch.diameters)
    return 4 * patch.volume / (pi * across**2)
