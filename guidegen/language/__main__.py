"""`python -m guidegen.language`: collect the interface's messages into `guidegen/locale`."""

from __future__ import annotations

from guidegen.language.collect import PACKAGE, write


def main() -> None:
    """Write what changed, and say so."""
    for path in write():
        print(f"written: {path.relative_to(PACKAGE.parent).as_posix()}")


if __name__ == "__main__":
    main()
