"""Hundredfold: from a folder of designs to a month of verified listing packs.

The rooms and who may import whom are described in docs/architecture.md. Inside the package, import
the defining module, never a package's front door.
"""

__version__ = "0.1.0"
