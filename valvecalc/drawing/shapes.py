"""A shape for each verdict, so that it is told by form and word and never by colour alone."""

from valvecalc.drawing import svg

#: verdict word -> form. What is not listed is open: a question mark.
FORMS = {
    "accept": "full",
    "sign-off": "full",
    "works": "fair",
    "works, say so": "fair",
    "erratic": "weak",
    "reject": "none",
    "will not shift": "none",
}

#: form -> the mark for a terminal
SIGNS = {"full": "[+]", "fair": "[~]", "weak": "[!]", "none": "[x]", "open": "[?]"}

_EDGE = f'fill="none" stroke="{svg.INK}" stroke-width="2.4"'
_DRAWN = {
    "full": f'<circle cx="12" cy="12" r="11" fill="{svg.INK}"/>'
    f'<path d="M6.5 12.5l4 4l7-8.5" fill="none" stroke="{svg.PAPER}" stroke-width="2.8"/>',
    "fair": f'<circle cx="12" cy="12" r="10" {_EDGE}/><path d="M7 12.5l3.5 3.5l6.5-7.5" {_EDGE}/>',
    "weak": f'<path d="M12 2L22.5 21.5H1.5Z" {_EDGE}/><path d="M12 8.5v6.5M12 17v2.2" {_EDGE}/>',
    "none": f'<rect x="1" y="1" width="22" height="22" rx="3" fill="{svg.ALARM}"/>'
    f'<path d="M7 7L17 17M17 7L7 17" fill="none" stroke="{svg.PAPER}" stroke-width="3"/>',
    "open": f'<path d="M12 1.5L22.5 12L12 22.5L1.5 12ZM9.3 9.6a2.8 2.8 0 1 1 4.2 2.4q-1.5 .8-1.5 2.2" {_EDGE}/>'
    f'<circle cx="12" cy="17.2" r="1.4" fill="{svg.INK}"/>',
}


def form(verdict: str) -> str:
    """full, fair, weak, none or open; a longer wording takes the form of the verdict that it begins with."""
    known = [word for word in FORMS if verdict.startswith(word)]
    return FORMS[max(known, key=len)] if known else "open"


def symbol(verdict: str) -> str:
    """The shape as a small picture; the word itself has to stand beside it."""
    frame = 'xmlns="http://www.w3.org/2000/svg" class="shape" viewBox="0 0 24 24" aria-hidden="true"'
    return f"<svg {frame}>{_DRAWN[form(verdict)]}</svg>"
