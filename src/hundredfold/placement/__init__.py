"""Where the art lies on a print area, in millimetres and exact pixels. Pure."""
