"""From signs to causes: the knowledge, the network, what people type, and the answer."""
