"""`python -m macros` is `trayside`."""

from macros.doors.cli import main

if __name__ == "__main__":
    main()
