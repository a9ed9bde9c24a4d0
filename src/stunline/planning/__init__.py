"""Which strike: why the white goes where it goes, and what each cause adds to it."""
