"""Photos of artworks: taken in with a form, straightened, shown."""
