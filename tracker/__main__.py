"""`python -m tracker`."""

from tracker.commands.main import main

if __name__ == "__main__":
    main()
