"""The shell of a house as surfaces: which barriers panels have, where their edges lie, and what closes them."""
