import pytest

from pullbench.errors import ConditionsError
from pullbench.physics import normal_gravity_m_s2


@pytest.mark.parametrize("latitude_deg", [90.1, -91, float("nan")])
def test_a_latitude_off_the_globe_is_refused(latitude_deg):
    with pytest.raises(ConditionsError) as refused:
        normal_gravity_m_s2(latitude_deg)
    assert refused.value.code == "latitude-out-of-range"
    assert "°" in str(refused.value)


@pytest.mark.parametrize("height_m", [-501, 9001, float("nan")])
def test_a_height_where_nobody_teaches_is_refused(height_m):
    with pytest.raises(ConditionsError) as refused:
        normal_gravity_m_s2(45, height_m)
    assert refused.value.code == "height-out-of-range"
