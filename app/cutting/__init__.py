"""What goes to a cutter: closed outlines, fold lines and marks, as SVG and DXF. No Qt."""
