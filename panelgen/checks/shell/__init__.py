"""The assembled house: panels that meet, barriers that close, and how each panel is lifted, carried and set."""
