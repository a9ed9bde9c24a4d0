"""``python -m stunline`` is the same as the command ``stunline``."""

from stunline.cli.main import main

if __name__ == "__main__":
    main()
