"""`python -m joblog` is the command `joblog`."""

from joblog.cli import main

if __name__ == "__main__":
    main()
