"""The work simulated: every verb of every step carried out on the assembly graph, and every fault noted once."""
