"""Small drawings of a slice, a loaf or a dough in plain letters, where a look says more than a sentence."""

from __future__ import annotations

WIDEST, TALLEST = 20, 6

SKETCHES = {
    "flat_loaf": r"""
 . . . . . . . .
  ______________
 (______________)
 as tall as dough
""",
    "collapse_in_oven": r"""
 _            _
( \__      __/ )
|    \____/    |
|   o  .  o    |
|______________|
""",
    "collapse_on_cooling": r"""
 . . . . . . . .
  _____----_____
 / \_        _/ \
|    o . o .     |
|________________|
""",
    "gummy_centre": r"""
  ____________
 /  o  .  o   \
| o  (#####) o |
| .  (#####) . |
|_o___.__o___._|
""",
    "gummy_base": r"""
  ____________
 /  o  .  o   \
| o  .  o   .  |
|##############|
|##############|
""",
    "dense_crumb": r"""
  ____________
 /............\
|..............|
|..............|
|______________|
""",
    "coarse_holes": r"""
  ____________
 / O   o   O  \
|  o (   ) o   |
| O   o   O  o |
|______________|
""",
    "large_cavity": r"""
  ____________
 /  ________  \
|  /        \  |
| (__________) |
|_.__o__.__o___|
""",
    "split_crust": r"""
  ____/\/\____
 /    \  /    \
|  o  .  o  .  |
| .  o  .  o   |
|______________|
""",
    "shelled_top": r"""
  ____________
 /____________\
(              )
|  o . o . o . |
|______________|
""",
    "wrinkled_top": r"""
  _~^~_~^~_~^~
 /  o  .  o   \
| o  .  o   .  |
| .  o  .  o   |
|______________|
""",
    "thick_crust": r"""
 ##############
##  o  .  o   ##
## .  o  .  o ##
##  o  .  o   ##
 ##############
""",
    "side_cave_in": r"""
  ____________
 /  o  .  o   \
 )  .  o  .  (
  )  o .  o (
 /____________\
""",
    "overflow": r"""
  ______________
 (_  o  .  o   _)
 (_|__________|_)
   |  o  .  o |
   |__________|
""",
    "wet_base": r"""
  ____________
 /  o  .  o   \
| o  .  o   .  |
|______________|
~~~~~~~~~~~~~~~~
""",
    "crumbly_slice": r"""
  ____________
 /  o /  . \  \
| o  /  o   \ .|
|___/ .  . __\ |
  .  ' .  ' .  '
""",
    "runny_dough": r"""
     ______
  __/      \__
_/____________\_
 spreads by itself
""",
    "stiff_dough": r"""
    __    __
   /  \__/  \
  |  ~ cracks |
   \_~__~__~_/
""",
}


def sketch_of(symptom: str) -> tuple[str, ...]:
    """Give the lines of a symptom's drawing; none where there is nothing to see."""
    return tuple(SKETCHES.get(symptom, "").strip("\n").splitlines())
