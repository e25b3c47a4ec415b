"""What the starter shares with the demonstration: made from it, so that there is one text to keep.

`python tests/starter_copies.py` writes the copies anew after the demonstration's were changed; a test compares them.
Only what is real and holds for any workshop is shared; what is invented stays in the demonstration.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from pathlib import Path

from guidegen.workshop.nodes import to_data
from guidegen.workshop.procedures import Hazards, SharedBlocks
from guidegen.workshop.reader import read_file
from guidegen.workshop.texts import WithTexts

REPOSITORY = Path(__file__).parents[1]
STARTER = REPOSITORY / "guidegen" / "starter"


def same(text: str) -> str:
    """Take a file as it is."""
    return text


def hazards(text: str) -> str:
    """Leave out that the statements belong to the demonstration; they are real."""
    return swapped(text, "# Hazard statements of the demonstration. ", "# Hazard statements. ")


def blocks(text: str) -> str:
    """Let the limits come from the new workshop's own rules."""
    return swapped(text, "source: kettleby-fitting-rules", "source: fitting-rules")


READ_BY_US = """\
# The program's own texts, read by those who wrote them. They become yours: before you publish, delete this file, read
# what `guidegen read` prints, and confirm it with `guidegen read --confirm --role maker`.
read:
"""


def read_texts(text: str) -> str:
    """Keep what was read of the texts that are shared; the program answers for them until the workshop does."""
    documents: dict[str, type[WithTexts]] = {"content/procedures/shared.yml": SharedBlocks,
                                             "content/hazards.yml": Hazards}  # fmt: skip
    shared = {one.hash for path, model in documents.items()
              for one in model.model_validate(to_data(read_file(REPOSITORY / path, path))[0]).to_read}  # fmt: skip
    entries = [line for line in text.splitlines() if (found := re.search(r"text: (\w+)", line)) and found[1] in shared]
    return READ_BY_US + "".join(f"{line}\n" for line in entries).replace("role: maker", "role: guidegen")


def about(text: str) -> str:
    """Leave out the section on what is invented."""
    return cut(text, "\n## All of it is invented")


def home(text: str) -> str:
    """Speak of the new workshop, and leave out the note on what is invented."""
    old = "Kettleby Bench Works makes retrofit kits for two families of small coffee machines, "
    old += "the Tamsin and the Bracken."
    new = "{{ workshop.name }} makes retrofit kits for small coffee machines."
    for_makers = "* For makers: [publish your guides](publish.md), "
    for_makers += "[fields of the data](site:fields.html), [problem codes](site:problem-codes.html).\n"
    return cut(swapped(swapped(text, old, new), for_makers, ""), "\n!!! note")


def beside_the_readme(text: str) -> str:
    """A page of the demonstration's site as a file to read: customers of a new workshop have no use for it."""
    return text.partition("\n---\n\n")[2]


def questions(text: str) -> str:
    """Ask what can be asked of any such machine; remedies are those of the demonstration's kits."""
    return cut(text.replace("# Invented, like everything in this demonstration.\n", ""), "\nremedies:")


def shell(text: str) -> str:
    """Leave out name, address and notice of the demonstration."""
    text = re.sub(r"(?m)^site_name:.*$", "site_name: A New Workshop", text)
    address = "# Add site_url: with the address of the site once it has one."
    text = re.sub(r"(?m)^site_url:.*$", address, text)
    what = "site_description: Retrofit guides, with every number computed, measured or cited."
    text = re.sub(r"(?m)^site_description:.*$", what, text)
    return re.sub(r"(?m)^copyright:.*\n", "", text)


def swapped(text: str, old: str, new: str) -> str:
    """Exchange a passage that must be there."""
    if old not in text:
        raise ValueError(f"the demonstration no longer says {old!r}; change the rule in {Path(__file__).name}")
    return text.replace(old, new)


def cut(text: str, start: str) -> str:
    """Leave out everything from a passage that must be there."""
    return swapped(text, start, "\0").partition("\0")[0].rstrip() + "\n"


COPIES: dict[str, Callable[[str], str]] = {
    "mkdocs.yml": shell,
    "content/drinks.yml": same,
    "content/glossary.yml": same,
    "content/hazards.yml": hazards,
    "content/procedures/shared.yml": blocks,
    "content/questions.yml": questions,
    "content/read.yml": read_texts,
    "content/pages/about-the-data.md": about,
    "content/pages/index.md": home,
    "content/pages/methods.md": same,
    "content/pages/safety.md": same,
    "PUBLISH.md": beside_the_readme,
}
ELSEWHERE = {"PUBLISH.md": "content/pages/publish.md"}
"""Where the demonstration has it, if not at the same place."""


EXAMPLE = REPOSITORY / "guidegen" / "example.zip"
"""The demonstration for `guidegen new workshop --example`: what it is made of, without what was published of it."""
PACKED = ("content", "machines")


def packed() -> dict[str, bytes]:
    """The files of the demonstration that the example holds, by their paths."""
    found = {"mkdocs.yml": (REPOSITORY / "mkdocs.yml").read_bytes()}
    for folder in PACKED:
        for path in sorted((REPOSITORY / folder).rglob("*")):
            name = path.relative_to(REPOSITORY).as_posix()
            if path.is_file() and not name.startswith("content/editions/"):
                found[name] = path.read_bytes()
    return found


def write_example() -> None:
    """Pack the demonstration, each file with the same day, so that the same files are the same bytes."""
    with zipfile.ZipFile(EXAMPLE, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in packed().items():
            archive.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED, 9)


def copy_of(path: str) -> str:
    """The text that the starter's file must have."""
    return COPIES[path]((REPOSITORY / ELSEWHERE.get(path, path)).read_text(encoding="utf-8"))


if __name__ == "__main__":
    for name in COPIES:
        (STARTER / name).write_text(copy_of(name), encoding="utf-8", newline="\n")
    write_example()
