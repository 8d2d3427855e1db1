"""Services in panels: runs and their fittings, bores, boxes, supports and the steel that shields them."""
