"""What a build changed, in few words: which sheets to print again, which version they replace, what else lies in the folder."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lessonkit.cli.record import Changes, Kept

MOST_NAMED = 8


def told(changes: Changes) -> str:
    """One line; empty for a first build and for one that changed nothing."""
    return " ".join(_sentences(changes)) if changes.before else ""


def _sentences(changes: Changes) -> Iterator[str]:
    known = {name: (changes.before[name], kept) for name, kept in changes.made.items() if name in changes.before}
    yield from _void(known)
    for what, names in (
        ("Fewer pages than before:", [name for name, (old, new) in known.items() if len(old.pages) > len(new.pages)]),
        ("New:", [name for name in changes.made if name not in changes.before]),
        ("No longer made, removed:", changes.gone),
        ("No longer made, but changed by someone and so left there:", changes.left),
        ("Not made this time, still of an older version:", changes.old),
    ):
        if names:
            yield f"{what} {_listed(names)}."


def _void(known: dict[str, tuple[Kept, Kept]]) -> Iterator[str]:
    """Which of the sheets that may have been printed are no longer good."""
    changed = {name: pages for name, (old, new) in known.items() if (pages := _changed(old, new))}
    codes = {new.code for _, new in known.values()}
    old_codes = sorted({known[name][0].code for name in changed or known} - codes)
    older = f"prints of version {_listed(old_codes)}" if old_codes else "older prints of the same version"
    if not changed:
        if old_codes:
            yield f"This is version {_listed(codes)}, but no sheet looks different: {older} still hold."
    elif all(len(changed.get(name, ())) >= len(new.pages) for name, (_, new) in known.items()):
        yield f"Every sheet changed, print all again: {older} are void."
    else:
        yield f"Print again: {_listed(_sheets(name, pages, known[name][1]) for name, pages in changed.items())}."
        yield f"Of these, {older} are void; all other sheets still hold."


def _changed(old: Kept, new: Kept) -> list[int]:
    """The numbers of the pages that look otherwise than before, or weren't there."""
    return [number for number, page in enumerate(new.pages, 1) if old.pages[number - 1 : number] != [page]]


def _sheets(name: str, pages: list[int], kept: Kept) -> str:
    if len(pages) == len(kept.pages):
        return name
    return f"{name} (page{'s' if len(pages) > 1 else ''} {', '.join(map(str, pages))})"


def _listed(names: Iterable[str]) -> str:
    all_of_them = list(names)
    more = len(all_of_them) - MOST_NAMED
    return ", ".join(all_of_them[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
