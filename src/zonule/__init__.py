"""Zonule plans high-risk cataract surgery: a lens power for every place the lens may end up."""

from typing import Final

__version__: Final = "0.1.0"
