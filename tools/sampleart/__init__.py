"""Draws the art of the invented shop Puddlewick Goods: finished designs, and pictures for layouts."""
