"""Heat in the oven and after it: conduction, crust, crumb, cooling."""
