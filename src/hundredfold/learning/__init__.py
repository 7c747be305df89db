"""Which of our fields a column of somebody's table holds: from its header, its values and its neighbours."""
