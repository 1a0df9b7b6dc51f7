"""Which mounting face is this, as far as screws and ports can tell it?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import identity
from valvecalc.primitives import fact, known, least
from valvecalc.sheet import sheet


class Face(NamedTuple):
    """What a caliper reads at the foot of the valve; SI."""

    bolt_diameter: Value = None
    port_diameter: Value = None
    bolt_count: Value = None


@sheet(
    "Mounting face: which size is it",
    results=(
        "settled_face",
        "interface_verdict",
        "nearest_face",
        "misfit",
        "second_face",
        "second_misfit",
        "interface_note",
        "interface_rows",
    ),
    rows={"interface_rows": ("mounting_face", "fit_word", "bolt_misfit", "count_misfit", "port_misfit")},
    judged={"misfit": ("<=", "interface-misfit")},
    limits={
        "bolt_diameter": "> 0 mm, <= 100 mm",
        "port_diameter": "> 0 mm, <= 200 mm",
        "bolt_count": ">= 1, <= 24",
    },
    labels={"port_diameter": "diameter of the largest of the ports P, A, B, T, in the valve's foot"},
    example={"bolt_diameter": "5.9 mm", "port_diameter": "11.0 mm", "bolt_count": "4"},
    cautions=("stored-pressure", "falling-load"),
    sources=(("dcv-sizes", "table of sizes and mounting patterns"), ("gb-8099", "5.1.1, 5.1.2")),
    distrust=(
        "It names a size to look up, not a valve to fit: hold the spacing of the screw holes and the place of each port"
        " against ISO 4401 before anything is bought. No public table of the spacings was found, so none is used here.",
        "Size 02 is not in the table: no public figure was found. A face smaller than 03 fits none.",
        "A valve may have smaller ports than its face allows: then screws and ports contradict each other.",
        "Pressure, flow and servo valves have screws and ports of the same sizes in other places.",
        "A size by the screws alone, or by the ports alone, stays open: read both.",
    ),
)
def mounting_interface(face: Face) -> Value:
    """Screws, their number and ports against the sizes of ISO 4401; each size is told with what speaks against it.

    Inch screws differ by up to 6 % from the metric ones of the same face, and a thread measures a little less than its
    name: within 8 % a reading fits. Neighbouring sizes lie 20 % apart or more.
    """
    face_reading = known(face.bolt_diameter, face.port_diameter)
    bolt_reading = known(face.bolt_diameter, 0.0)
    port_reading = known(face.port_diameter, 0.0)
    count_reading = known(face.bolt_count, 0.0)
    face_rows = [
        {
            "mounting_face": row["mounting_face"],
            "bolt_misfit": identity.bolt_misfit(
                bolt_diameter=bolt_reading, nominal_bolt_diameter=row["nominal_bolt_diameter"]
            ),
            "count_misfit": identity.count_misfit(
                bolt_count=count_reading, nominal_bolt_count=row["nominal_bolt_count"]
            ),
            "port_misfit": identity.port_misfit(
                port_diameter=port_reading,
                least_port_diameter=row["least_port_diameter"],
                largest_port_diameter=row["largest_port_diameter"],
            ),
            "interface_note": row["interface_note"],
        }
        for row in fact("interfaces")
        if row["confirmed"] == "yes" and face_reading > 0.0
    ]
    interface_rows = [
        {
            "mounting_face": row["mounting_face"],
            "fit_word": (
                "screws do not fit"
                if row["bolt_misfit"] > fact("interface-misfit")
                else (
                    "ports do not fit"
                    if row["port_misfit"] > fact("interface-misfit")
                    else ("number of screws does not fit" if row["count_misfit"] > fact("interface-misfit") else "fits")
                )
            ),
            "bolt_misfit": row["bolt_misfit"],
            "count_misfit": row["count_misfit"],
            "port_misfit": row["port_misfit"],
            "misfit": identity.largest_misfit(
                bolt_misfit=row["bolt_misfit"], count_misfit=row["count_misfit"], port_misfit=row["port_misfit"]
            ),
            "interface_note": row["interface_note"],
        }
        for row in face_rows
    ]
    nearest_interface = least(interface_rows, "misfit")
    nearest_face = nearest_interface["mounting_face"]
    misfit = nearest_interface["misfit"]
    other_interfaces = [row for row in interface_rows if row["mounting_face"] != nearest_face]
    next_interface = least(other_interfaces, "misfit")
    second_misfit = next_interface["misfit"]
    told_by_one = "none of them" if misfit > fact("interface-misfit") else "cannot tell"
    told_by_both = (
        "accept"
        if misfit <= fact("interface-misfit")
        and second_misfit > fact("interface-misfit")
        and face.bolt_diameter > 0.0
        and face.port_diameter > 0.0
        else told_by_one
    )
    interface_verdict = known(told_by_both, told_by_one)
    settled_face = nearest_face if interface_verdict == "accept" else interface_verdict
    return {
        "settled_face": settled_face,
        "interface_verdict": interface_verdict,
        "nearest_face": nearest_face,
        "misfit": misfit,
        "second_face": next_interface["mounting_face"],
        "second_misfit": second_misfit,
        "interface_note": nearest_interface["interface_note"],
        "interface_rows": interface_rows,
    }
