"""Speed on this machine, in one run, as ratios: a number from another day or machine says nothing."""
