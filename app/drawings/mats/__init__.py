"""Each mat by itself: its plan, its marks from the back, its outlines for machines."""
