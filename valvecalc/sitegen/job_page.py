"""The page that explains every field of a job file and of shop.toml, from data/job_fields.toml."""

from valvecalc.job.fields import BELOW_COIL, Field, about, choices, fields, many, tables
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import marks

_KINDS = {
    "text": "text",
    "date": "date, as 2026-03-31",
    "words": "list of texts",
    "yes-no": "true or false",
    "changes": "table: entry = value",
    "reading": "a value in the unit of the check; one reading or a list of trials",
}


def fields_page() -> str:
    """One section for each table; the words of a choice, the unit of a quantity."""
    parts = [
        marks.head("Every field of the job file"),
        "<p>A field that was not read is left out: it is unknown, never nought. A value is a number and a unit in "
        "quotes, with what the instrument can be wrong by where you know it.</p>",
    ]
    for file, title in (("job", "The job file"), ("shop", "shop.toml, beside it")):
        parts.append(f"## {title}")
        for table in tables(file):
            parts += [f"### {_name(file, table)}", f"<p>{marks.esc(about(file, table))}</p>", _rows(file, table)]
    return "\n\n".join(parts) + "\n"


def _name(file: str, table: str) -> str:
    if table == file:
        return "Head"
    path = f"coil.{table}" if table in BELOW_COIL else table
    return f"`[[{path}]]`" if many(file, table) else f"`[{path}]`"


def _rows(file: str, table: str) -> str:
    rows = "".join(
        f"<tr><td><code>{marks.esc(field.key)}</code></td><td>{marks.esc(field.meaning)}</td>"
        f"<td>{marks.esc(_kind(field))}</td></tr>"
        for field in fields(file, table).values()
    )
    if not rows:
        return ""
    heads = "<tr><th>Field</th><th>What it is</th><th>How it is written</th></tr>"
    return f"<table><thead>{heads}</thead><tbody>{rows}</tbody></table>"


def _kind(field: Field) -> str:
    if field.kind in ("choice", "word"):
        return "; ".join(choices(field))
    if field.kind in ("quantity", "repeats"):
        quantity = VOCABULARY[field.words[0]]
        units = " or ".join(dict.fromkeys(unit for unit in (quantity.metric, quantity.us) if unit)) or "number"
        return units if field.kind == "quantity" else f"{units}; one reading or a list of trials"
    if field.kind == "rows":
        return "rows of " + ", ".join(name.replace("_", " ") for name in field.words)
    return _KINDS[field.kind]
