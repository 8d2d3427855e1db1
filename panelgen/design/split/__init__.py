"""Where a wall is split into panels: the best of all splits that line, hands, crane and truck allow."""
