"""Finished designs for the invented shop Puddlewick Goods, drawn here: art to try everything with."""
