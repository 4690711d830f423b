"""Read by the process from which workers are forked, so that each of them has the knowledge from its first moment.

Importing it does the work: that is all the forking process offers. Only `workers.py` names it, and no test imports it.
"""

from advisor import default_advisor
from advisor.interface.page.work import WORK

if __name__ == "advisor.interface.page.warm":
    assert WORK  # its imports are what is wanted here
    default_advisor()
