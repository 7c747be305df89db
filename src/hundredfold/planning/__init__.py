"""Which listings go to which channel on which day, under the caps, with the reason. Pure."""
