"""Which strike: goals judged over many plays, margins, chances, and why the white goes there."""
