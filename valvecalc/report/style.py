"""The style sheet of the report page: phone, desk and paper (A4 and Letter), light and dark, no outside file."""

_LIGHT = """--ink:#15181b;--quiet:#4a5157;--paper:#ffffff;--panel:#f3f5f6;--edge:#868d94;--faint:#9aa1a7;
--alarm:#b3201a;--warn:#fdeceb;--care:#fff6dc;--care-edge:#8a6100;--here:#12508c;
--tone-1:#a9cbea;--tone-2:#f2cf8c;--tone-3:#bfe0b0;--tone-4:#efb9b3;--tone-5:#d3c3ea;--tone-6:#addcd8;--tone-7:#ddd0ab;
--tone-8:#ccd1d5;"""
_DARK = """--ink:#eceff1;--quiet:#b6bec5;--paper:#14181b;--panel:#1f2529;--edge:#7b858d;--faint:#6d767d;--alarm:#ff8a80;
--warn:#3a1917;--care:#332a10;--care-edge:#e5b94f;--here:#9ccaf5;
--tone-1:#2d5b86;--tone-2:#7a561b;--tone-3:#3c682d;--tone-4:#823f3a;--tone-5:#5a487a;--tone-6:#26655f;--tone-7:#655a34;
--tone-8:#4e565c;"""

_BODY = """
*{box-sizing:border-box}
html{color-scheme:light dark;-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem 1rem 3rem;max-width:64rem;background:var(--paper);color:var(--ink);
 font:1rem/1.5 system-ui,-apple-system,"Segoe UI",Roboto,"Liberation Sans",sans-serif;overflow-wrap:break-word}
h1{font-size:1.5rem;line-height:1.25;margin:1rem 0 .25rem}
h2{font-size:1.2rem;line-height:1.3;margin:2.25rem 0 .6rem;padding-bottom:.2rem;border-bottom:2px solid var(--edge)}
h3{font-size:1.05rem;line-height:1.35;margin:1.5rem 0 .4rem}
h4{font-size:1rem;margin:1rem 0 .3rem}
p{margin:.4rem 0}ul,ol{margin:.4rem 0;padding-left:1.4rem}li{margin:.2rem 0}
.letterhead{display:flex;flex-wrap:wrap;gap:.1rem 1.5rem;justify-content:space-between;
 border-bottom:2px solid var(--ink);padding-bottom:.5rem}
.letterhead p{margin:0}.letterhead .shop{font-weight:700}
.quiet,figcaption,.unit-note{color:var(--quiet)}
.warning,.caution{border:2px solid;border-left-width:.6rem;border-radius:.3rem;padding:.6rem .9rem;margin:1rem 0}
.warning{background:var(--warn);border-color:var(--alarm)}
.caution{background:var(--care);border-color:var(--care-edge)}
.warning h2,.caution h2,.caution h3,.caution h4,.caution h5{border:0;padding:0;margin:0 0 .2rem;font-size:1.1rem}
.warning h2{color:var(--alarm)}.warning p,.caution p{font-size:1.05rem;margin:.25rem 0}
.warning p{font-weight:700}
.headline{border:2px solid var(--ink);border-radius:.3rem;padding:.8rem 1rem;margin:1rem 0}
.headline h2{border:0;margin:0;padding:0;font-size:1.6rem;display:flex;align-items:center;gap:.6rem}
.headline h2 .shape{width:2.2rem;height:2.2rem;flex:none}
.headline .sentence{font-size:1.1rem}.headline h3{margin:.8rem 0 .2rem}
.shape{width:1.15em;height:1.15em;vertical-align:-.2em;flex:none}
.verdict{white-space:nowrap;font-weight:700}
dl.facts{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1rem;margin:.6rem 0}
dl.facts dt{color:var(--quiet)}dl.facts dd{margin:0}
.charts{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,22rem),1fr));gap:1.5rem 2rem;
 grid-auto-flow:dense;align-items:start}
figure{margin:0;break-inside:avoid}
figure.stroke{grid-row:span 2}figcaption{font-weight:700;color:var(--ink);margin-bottom:.3rem}
.photos{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr));gap:1rem 1.5rem}
.photos img{display:block;max-width:100%;height:auto;max-height:32rem;margin-bottom:.3rem}
.drawing{display:block;width:100%;max-width:27rem;height:auto}
table{border-collapse:collapse;width:100%;margin:.5rem 0}
caption{text-align:left;color:var(--quiet);padding-bottom:.2rem}
th,td{text-align:left;vertical-align:top;padding:.35rem .6rem .35rem 0;border-bottom:1px solid var(--edge)}
th{font-weight:700}thead th{border-bottom-width:2px;color:var(--quiet)}
td ul{margin:0}td.figure{white-space:nowrap;font-variant-numeric:tabular-nums}
tr.headline-row th,tr.headline-row td{font-weight:700}
.scroll{overflow-x:auto}.scroll td,.scroll th{white-space:nowrap;padding-right:1rem}
.origin{display:inline-block;border:1px solid var(--edge);border-radius:.8rem;padding:0 .55rem;font-size:.9rem;
 white-space:nowrap}
.origin.measured,.origin.nameplate{border:2px solid var(--ink);font-weight:700}
.origin.common-practice,.origin.judgement{border-style:dashed;border-color:var(--care-edge);border-width:2px}
details{margin:.5rem 0;border:1px solid var(--edge);border-radius:.3rem;padding:0 .8rem;background:var(--panel)}
summary{min-height:48px;display:flex;align-items:center;cursor:pointer;font-weight:700;list-style:none}
summary::before{content:"+";width:1.4rem}details[open]>summary::before{content:"\\2212"}
summary::-webkit-details-marker{display:none}
:focus-visible{outline:3px solid var(--here);outline-offset:2px}
.worked{list-style:none;padding:0;margin:.3rem 0 .8rem}
.worked .worked{padding-left:1.2rem;border-left:3px solid var(--edge)}
.worked li{margin:.5rem 0}.worked .lines{font-family:"Cambria Math","STIX Two Text",Georgia,"Liberation Serif",serif;
 display:grid;grid-template-columns:minmax(2.5rem,max-content) 1fr;gap:0 .5rem}
.lines .eq{grid-column:2;text-indent:-1.1em;padding-left:1.1em}.lines .res{font-weight:700}
sub{font-size:.75em;line-height:0}
.repairs{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,14rem),1fr));gap:.8rem}
.repair{border:1px solid var(--edge);border-radius:.3rem;padding:.6rem .8rem;break-inside:avoid}
.repair h3{margin:0 0 .2rem;font-size:1rem}.repair p{margin:.15rem 0}.repair .big{font-size:1.25rem;font-weight:700}
.reopen a{display:inline-flex;align-items:center;min-height:48px;color:var(--here)}
.code svg{display:block;max-width:100%;height:auto;margin:0 0 .8rem}
.answer{break-inside:auto}.signatures{display:none}
.mono{font-family:ui-monospace,"Liberation Mono",monospace;font-size:.9rem;overflow-wrap:anywhere}
footer{margin-top:2.5rem;border-top:2px solid var(--ink);padding-top:.6rem}
@media (max-width:40rem){
 dl.facts{grid-template-columns:1fr}dl.facts dd{margin-bottom:.3rem}
 .stack thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
 .stack,.stack tbody,.stack tr,.stack th,.stack td{display:block}
 .stack tr{border-bottom:1px solid var(--edge);padding:.4rem 0}
 .stack th,.stack td{border:0;padding:.05rem 0}
 .stack td[data-head]:not([data-head=""])::before{content:attr(data-head) ": ";color:var(--quiet);font-weight:400}
 .stack td:empty{display:none}td.figure{white-space:normal}
}
@media print{
 html{font-size:9.5pt}
 body{max-width:none;padding:0;line-height:1.35}
 h2,h3,h4,summary{break-after:avoid}
 h2{margin:1.1rem 0 .4rem}h3{margin:.8rem 0 .2rem}
 .warning,.caution,.headline,tr,.worked .lines{break-inside:avoid}
 .warning,.caution,details,.origin{print-color-adjust:exact;-webkit-print-color-adjust:exact}
 .charts{grid-template-columns:1fr 1fr;gap:.8rem 1.2rem}
 .repairs{grid-template-columns:repeat(3,1fr)}
 details{border:0;padding:0;background:none}summary{min-height:0;display:block}summary::before{content:none!important}
 details::details-content{content-visibility:visible;display:block;height:auto}
 details>.worked{columns:2;column-gap:7mm;font-size:.85em}.worked li{margin:.2rem 0}
 .screen-only,.code summary{display:none!important}
 .reopen,.code{break-inside:avoid}.reopen{break-after:avoid}.reopen a{min-height:0;color:var(--ink)}
 .signatures{display:grid;grid-template-columns:1fr 1fr;gap:2.2rem 3rem;margin:2.5rem 0 0;break-inside:avoid}
 .signatures p{border-top:1px solid var(--ink);padding-top:.2rem}
 @page{margin:15mm 15mm 18mm}
}
"""

STYLE = (
    f":root{{{_LIGHT}}}\n@media (prefers-color-scheme:dark){{:root{{{_DARK}}}}}\n"
    f"@media print{{:root{{{_LIGHT}color-scheme:light}}}}{_BODY}"
)


def page_foot(left: str) -> str:
    """The line at the foot of each printed page: which job it belongs to, and the page's number."""
    words = "".join(sign if sign.isalnum() and sign.isascii() else f"\\{ord(sign):x} " for sign in left)
    return (
        f'@page{{@bottom-left{{content:"{words}";font:8pt sans-serif}}'
        '@bottom-right{content:"page " counter(page) " of " counter(pages);font:8pt sans-serif}}'
    )
