"""Lets the drawing's tests share their hand-made shots and pictures."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
