"""All kinds of entries, and the view of them that the kernel takes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sporeline.contract.kinds import bench, care, field, line, people, strikes
from sporeline.contract.registry import KINDS, kernel_views

KERNEL_KINDS: Mapping[str, Any] = kernel_views()
"""Kind to `{"v", "nature", "state"?, "sums"?, "implies"?}`."""

__all__ = ["KERNEL_KINDS", "KINDS", "bench", "care", "field", "line", "people", "strikes"]
