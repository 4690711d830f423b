"""What the baker has the oven do: heats one after the other, lid, steam, a hot stone."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenStage:
    """From `from_min` on the dial stands at `air_c`, with the loaf under a lid or not, steam let in or not."""

    from_min: float
    air_c: float
    lid: bool = False
    steam: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenProgramme:
    """Stages in their order, the first from loading on; `preheat_c` is the oven at loading where it is another.

    `base_c` is a stone, sheet or vessel that is hot when the dough comes onto it; `None`: as cold as the dough.
    """

    stages: tuple[OvenStage, ...]
    preheat_c: float | None = None
    base_c: float | None = None

    def __post_init__(self) -> None:
        """Hold the stages to their order.

        Raises:
            ValueError: there is no stage, the first is not from loading on, or one comes before the one before it.
        """
        starts = [stage.from_min for stage in self.stages]
        if not starts or starts[0] != 0 or starts != sorted(starts):
            raise ValueError(f"stages of an oven begin at 0 min and follow each other, not at {starts}")
