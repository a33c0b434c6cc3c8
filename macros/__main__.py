"""`python -m macros` is `trayside`."""

from macros.cli import main

if __name__ == "__main__":
    main()
