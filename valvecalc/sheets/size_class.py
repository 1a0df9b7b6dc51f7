"""How much does this spool pass, and which size of valve passes that much?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import identity, orifice, spool
from valvecalc.primitives import fact, known, least, using
from valvecalc.sheet import sheet


class Spool(NamedTuple):
    """The spool under the micrometer, its way and overlap, and the drop at which the flow is asked for; SI."""

    spool_diameter: Value = None
    stroke: Value = None
    overlap: Value = None
    clearance: Value = 5e-6
    pressure_drop: Value = 5e5
    open_circumference: Value = 1.0
    discharge_coefficient: Value = 0.65
    density: Value = 870.0


@sheet(
    "Spool without a plate: which size class",
    results=(
        "likely_flow",
        "settled_size",
        "size_verdict",
        "likely_size",
        "smallest_size",
        "least_flow",
        "largest_size",
        "edge_flow",
        "opening",
        "size_rows",
    ),
    rows={"size_rows": ("mounting_face", "least_usual_flow", "largest_usual_flow", "likely_misfit")},
    limits={
        "spool_diameter": "> 0 mm, <= 200 mm",
        "stroke": "> 0 mm, <= 100 mm",
        "overlap": "> -10 mm, <= 20 mm",
        "clearance": ">= 0 mm, <= 1 mm",
        "pressure_drop": "> 0 bar, <= 100 bar",
        "open_circumference": "> 0, <= 1",
        "discharge_coefficient": "> 0, <= 1",
        "density": ">= 700 kg/m³, <= 1500 kg/m³",
    },
    trusted={"pressure_drop": (">= 2 bar, <= 15 bar", "Valves are usually rated at 3 to 10 bar over a path.")},
    origins={
        "clearance": ("judgement", ""),
        "pressure_drop": ("judgement", ""),
        "open_circumference": ("judgement", ""),
        "discharge_coefficient": ("handbook", "jelali-kroll-2003"),
        "density": ("common-practice", ""),
    },
    labels={
        "stroke": "way of the spool from rest to its stop",
        "overlap": "overlap of the edge at rest; left empty: the edge opens at once",
        "pressure_drop": "pressure difference over one path",
        "open_circumference": "share of the circumference that opens; 1 for a plain edge, less with notches",
    },
    chart="stroke",
    example={"spool_diameter": "17 mm", "stroke": "4.4 mm", "overlap": "1.1 mm"},
    cautions=("stored-pressure", "spring"),
    sources=(("jelali-kroll-2003", "ch. 3.3"), ("dcv-sizes", "table of sizes and mounting patterns")),
    distrust=(
        "The edge is not all: bends and bores of the body take their part. 60 % of the edge's flow is taken as likely,"
        " 35 % and all of it as the ends; where the ends name two sizes, the size stays open.",
        "It is no rating: what the valve shifts against is another question (limit of flow).",
        "Usual flows of sizes are of catalogues, not of a standard; valves of one size differ by a factor of two.",
        "Full notches, a stroke limiter or a soft-shift spool: the flow is far less and the size says nothing.",
    ),
)
def size_class(measured: Spool) -> Value:
    """Flow of one fully open edge at a stated drop, and the sizes of ISO 4401 whose usual flow comes nearest."""
    shut_way = known(measured.overlap, 0.0)
    open_way = measured.stroke - shut_way
    opening = open_way if open_way > 0.0 else 0.0
    area = using(measured, spool.metering_area, opening=opening)
    edge_flow = using(measured, orifice.orifice_flow, area=area)
    likely_flow = identity.flow_left(edge_flow=edge_flow, body_share=fact("usual-body-share"))
    least_flow = identity.flow_left(edge_flow=edge_flow, body_share=fact("least-body-share"))
    size_rows = [
        {
            "mounting_face": row["mounting_face"],
            "least_usual_flow": row["least_usual_flow"],
            "largest_usual_flow": row["largest_usual_flow"],
            "likely_misfit": identity.flow_misfit(
                edge_flow=likely_flow,
                least_usual_flow=row["least_usual_flow"],
                largest_usual_flow=row["largest_usual_flow"],
            ),
            "least_misfit": identity.flow_misfit(
                edge_flow=least_flow,
                least_usual_flow=row["least_usual_flow"],
                largest_usual_flow=row["largest_usual_flow"],
            ),
            "edge_misfit": identity.flow_misfit(
                edge_flow=edge_flow,
                least_usual_flow=row["least_usual_flow"],
                largest_usual_flow=row["largest_usual_flow"],
            ),
        }
        for row in fact("interfaces")
        if row["confirmed"] == "yes"
    ]
    likely_size = least(size_rows, "likely_misfit")["mounting_face"] if open_way > 0.0 else None
    smallest_size = least(size_rows, "least_misfit")["mounting_face"] if open_way > 0.0 else None
    largest_size = least(size_rows, "edge_misfit")["mounting_face"] if open_way > 0.0 else None
    size_verdict = "accept" if smallest_size == largest_size and open_way > 0.0 else "cannot tell"
    settled_size = likely_size if size_verdict == "accept" else size_verdict
    return {
        "likely_flow": likely_flow,
        "settled_size": settled_size,
        "size_verdict": size_verdict,
        "likely_size": likely_size,
        "smallest_size": smallest_size,
        "least_flow": least_flow,
        "largest_size": largest_size,
        "edge_flow": edge_flow,
        "opening": opening,
        "size_rows": size_rows,
    }
