"""`valvecalc sheet`: the bench sheet printed, as JSON, and as files for the printer."""

import json
from pathlib import Path
from typing import Any


def say_sheet(options: Any) -> int:
    """Print the bench sheet of a job; with --to write page, text and JSON too."""
    from valvecalc.job.bench import bench_sheet
    from valvecalc.job.publish import file_stem
    from valvecalc.job.read import read_job
    from valvecalc.report import bench_html, bench_text
    from valvecalc.writing import write_together

    sheet = bench_sheet(read_job(Path(options.job), Path(options.shop) if options.shop else None))
    as_json, as_text = json.dumps(sheet, ensure_ascii=False, indent=1), bench_text.render(sheet)
    files = []
    if options.to:
        stem = f"{file_stem(sheet)}-bench-sheet"
        contents = {".html": bench_html.render(sheet), ".json": as_json + "\n", ".txt": as_text}
        files = write_together(Path(options.to), {f"{stem}{end}": text.encode() for end, text in contents.items()})
    print(as_json if options.json else as_text, end="\n" if options.json else "")
    if files and not options.json:
        print("Written: " + ", ".join(str(path) for path in files) + ".")
    return 0
