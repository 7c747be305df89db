"""The month: judged, planned, made and packed, and why each thing is as it is."""
