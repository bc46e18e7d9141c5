"""Drawings as SVG, from stated sizes. Each carries alternative text made from the same data."""
