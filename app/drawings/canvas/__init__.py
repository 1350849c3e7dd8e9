"""What every drawing stands on: SVG elements, boxes, lettering, shading, symbols."""
