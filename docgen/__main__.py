"""`python -m docgen`, where the command itself is not on the path."""

from docgen.cli import main

if __name__ == "__main__":
    main()
