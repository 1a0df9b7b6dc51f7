"""Formulas against fluids 1.3, a general reference library that this project does not take them from."""

import pytest
from fluids.core import nu_mu_converter
from fluids.flow_meter import flow_meter_discharge

from valvecalc.formulas import oil, orifice


def test_orifice_flow_is_the_discharge_of_a_small_bore_in_a_wide_pipe() -> None:
    """fluids' discharge equation with a diameter ratio of 1/1000, where its approach factor is 1 to 1e-12."""
    bore, density, upstream, downstream = 2e-3, 861.0, 9.1e6, 1.4e6
    mass_flow = flow_meter_discharge(D=2.0, Do=bore, P1=upstream, P2=downstream, rho=density, C=0.61)
    area = 3.141592653589793 / 4 * bore**2

    ours = orifice.orifice_flow(
        discharge_coefficient=0.61, area=area, pressure_drop=upstream - downstream, density=density
    )

    assert ours == pytest.approx(mass_flow / density, rel=1e-9)


def test_dynamic_viscosity_is_the_library_conversion() -> None:
    ours = oil.dynamic_viscosity(kinematic_viscosity=31.4e-6, density=858.0)

    assert ours == pytest.approx(nu_mu_converter(rho=858.0, nu=31.4e-6), rel=1e-14)
