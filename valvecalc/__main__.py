"""`python -m valvecalc` is the command line."""

from valvecalc.cli import main

raise SystemExit(main())
