"""Drawing bodies, boards, strings and forces, and traces to be read off."""
