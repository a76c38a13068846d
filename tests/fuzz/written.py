"""Plain values written as YAML, as a teacher, an editor or another program might."""

from __future__ import annotations

from random import Random
from typing import Any, ClassVar

import yaml


class _Plain(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):  # type: ignore[misc]
    """Leaves 12, yes and 2027-04-09 without quotes, as people type them."""

    yaml_implicit_resolvers: ClassVar[dict[str, Any]] = {}


class _Careful(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):  # type: ignore[misc]
    """Quotes what another reader would not take for text."""


_Plain.add_representer(type(None), lambda dumper, _: dumper.represent_scalar("tag:yaml.org,2002:str", "null"))


def written(value: Any, random: Random) -> str:
    """YAML of one of many styles. What stands twice (the very same table or list) becomes an anchor and a repeat."""
    return str(
        yaml.dump(
            value,
            Dumper=_Plain if random.random() < 0.7 else _Careful,
            default_flow_style=random.choice((False, False, None, True)),
            default_style=None if random.random() < 0.8 else random.choice(("'", '"', "|", ">")),
            allow_unicode=random.random() < 0.8,
            width=random.choice((40, 80, 10_000)),
            indent=random.choice((2, 4, 7)),
            explicit_start=random.random() < 0.1,
            sort_keys=random.random() < 0.1,
        )
    )
