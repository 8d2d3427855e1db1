"""The service cavity: straps on the inner sheathing, clear of what runs between them."""
