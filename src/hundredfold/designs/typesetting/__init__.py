"""Text into outlines: fonts from bytes, shaping, exact ink bounds, fitting, bending along a path. Pure."""
